#include "serve/jobs.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <exception>
#include <random>

namespace panup {

std::string_view name_of(JobState state) {
  static constexpr std::array<std::string_view, 5> names{"waiting", "running", "done", "failed",
                                                         "cancelled"};
  return names.at(static_cast<std::size_t>(state));
}

struct JobBoard::Job {
  JobReport report;
  JobWork work;
  std::vector<JobPart> parts;
  std::shared_ptr<const std::string> result;
  std::chrono::steady_clock::time_point over_since;
  std::uint64_t version = 1;
  std::atomic<bool> stopped = false;
};

class JobBoard::Progress : public JobProgress {
 public:
  Progress(JobBoard& board, Job& job) : board_(board), job_(job) {}

  void expect(std::size_t runs) override {
    change([this, runs] { job_.report.expected += runs; });
  }
  void did(std::size_t runs) override {
    change([this, runs] { job_.report.done += runs; });
  }
  void found(JobPart part) override {
    change([this, &part] { job_.parts.push_back(std::move(part)); });
  }
  bool stopped() const override { return job_.stopped; }

 private:
  template <typename Change>
  void change(Change make) {
    const std::lock_guard lock(board_.mutex_);
    make();
    ++job_.version;
    board_.changed();
  }

  JobBoard& board_;
  Job& job_;
};

JobBoard::JobBoard(std::vector<std::string> kinds)
    // A page that outlived an earlier server is not to take another's job for its own.
    : id_stem_(fmt::format("{:08x}", std::random_device{}())) {
  for (std::string& kind : kinds) {
    workers_.emplace_back([this, kind = std::move(kind)] { work_on(kind); });
  }
}

JobBoard::~JobBoard() { stop(); }

std::optional<std::string> JobBoard::submit(const std::string& kind, JobWork work) {
  const std::lock_guard lock(mutex_);
  forget_old();
  const auto waiting = static_cast<std::size_t>(std::ranges::count_if(
      jobs_, [](const JobPtr& job) { return job->report.state == JobState::waiting; }));
  if (waiting >= most_waiting || stopping_) {
    return std::nullopt;
  }
  auto job = std::make_shared<Job>();
  job->report.id = fmt::format("{}-{}", id_stem_, ++submitted_);
  job->report.kind = kind;
  job->work = std::move(work);
  jobs_.push_back(job);
  changed();
  return job->report.id;
}

std::vector<JobReport> JobBoard::reports() {
  const std::lock_guard lock(mutex_);
  forget_old();
  std::vector<JobReport> reports;
  for (const JobPtr& job : jobs_) {
    reports.push_back(job->report);
  }
  return reports;
}

std::optional<JobReport> JobBoard::report(const std::string& id) {
  const std::lock_guard lock(mutex_);
  const JobPtr job = find(id);
  return job != nullptr ? std::optional(job->report) : std::nullopt;
}

std::shared_ptr<const std::string> JobBoard::result(const std::string& id) {
  const std::lock_guard lock(mutex_);
  const JobPtr job = find(id);
  return job != nullptr ? job->result : nullptr;
}

bool JobBoard::remove(const std::string& id) {
  const std::lock_guard lock(mutex_);
  const JobPtr job = find(id);
  if (job == nullptr) {
    return false;
  }
  if (is_over(job->report.state)) {
    std::erase(jobs_, job);
  } else {
    job->stopped = true;
    end(*job, JobState::cancelled);
  }
  changed();
  return true;
}

std::optional<JobBoard::News> JobBoard::news(const std::string& id, std::size_t parts_seen) {
  const std::lock_guard lock(mutex_);
  const JobPtr job = find(id);
  if (job == nullptr) {
    return std::nullopt;
  }
  News news{.report = job->report, .parts = {}, .version = job->version};
  for (std::size_t i = parts_seen; i < job->parts.size(); ++i) {
    news.parts.push_back(job->parts[i]);
  }
  return news;
}

void JobBoard::tell(std::function<void()> told) {
  const std::lock_guard lock(mutex_);
  told_ = std::move(told);
}

void JobBoard::stop() {
  {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
    for (const JobPtr& job : jobs_) {
      if (!is_over(job->report.state)) {
        job->stopped = true;
        end(*job, JobState::cancelled);
      }
    }
    changed();
  }
  for (std::thread& worker : workers_) {
    worker.join();
  }
  workers_.clear();
}

void JobBoard::work_on(const std::string& kind) {
  std::unique_lock lock(mutex_);
  while (true) {
    to_do_.wait(lock, [&] { return stopping_ || next_of(kind) != nullptr; });
    if (stopping_) {
      return;
    }
    const JobPtr job = next_of(kind);
    job->report.state = JobState::running;
    ++job->version;
    changed();
    const JobWork work = std::move(job->work);
    Progress progress(*this, *job);
    std::string error;
    std::optional<std::string> result;
    lock.unlock();
    try {
      result = work(progress, error);
    } catch (const std::exception&) {
      error = "a fault of the program, or too little memory";
    }
    lock.lock();
    if (!is_over(job->report.state)) {
      if (result) {
        job->result = std::make_shared<const std::string>(std::move(*result));
      }
      job->report.error = error;
      end(*job, job->result != nullptr ? JobState::done : JobState::failed);
    }
    changed();
  }
}

JobBoard::JobPtr JobBoard::next_of(const std::string& kind) const {
  const auto next = std::ranges::find_if(jobs_, [&kind](const JobPtr& job) {
    return job->report.kind == kind && job->report.state == JobState::waiting;
  });
  return next == jobs_.end() ? nullptr : *next;
}

JobBoard::JobPtr JobBoard::find(const std::string& id) const {
  const auto found = std::ranges::find(jobs_, id, [](const JobPtr& job) { return job->report.id; });
  return found == jobs_.end() ? nullptr : *found;
}

/// With the mutex held.
void JobBoard::changed() {
  to_do_.notify_all();
  if (told_) {
    told_();
  }
}

void JobBoard::end(Job& job, JobState state) {
  job.report.state = state;
  job.over_since = std::chrono::steady_clock::now();
  ++job.version;
}

void JobBoard::forget_old() {
  const auto now = std::chrono::steady_clock::now();
  std::erase_if(jobs_, [now](const JobPtr& job) {
    return is_over(job->report.state) && now - job->over_since > kept_for;
  });
  auto over = static_cast<std::size_t>(
      std::ranges::count_if(jobs_, [](const JobPtr& job) { return is_over(job->report.state); }));
  for (; over > most_over; --over) {
    // The one that has been over for longest.
    JobPtr oldest;
    for (const JobPtr& job : jobs_) {
      if (is_over(job->report.state) &&
          (oldest == nullptr || job->over_since < oldest->over_since)) {
        oldest = job;
      }
    }
    std::erase(jobs_, oldest);
  }
}

}  // namespace panup
