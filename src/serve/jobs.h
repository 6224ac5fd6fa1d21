#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

namespace panup {

enum class JobState : std::uint8_t { waiting, running, done, failed, cancelled };
/// "waiting", "running", "done", "failed", "cancelled".
std::string_view name_of(JobState state);

constexpr bool is_over(JobState state) {
  return state != JobState::waiting && state != JobState::running;
}

/// What is told of a job while it goes on.
struct JobReport {
  std::string id;
  std::string kind;
  JobState state = JobState::waiting;
  std::size_t done = 0;      ///< of runs
  std::size_t expected = 0;  ///< of runs, as far as is known yet
  std::string error;         ///< in words; of a failed one
};

/// A part of the result, told of as soon as it is known.
struct JobPart {
  std::string_view name;  ///< of the event; a literal
  std::string json;
};

/// What work says of itself, from any thread.
class JobProgress {
 public:
  virtual ~JobProgress() = default;
  virtual void expect(std::size_t runs) = 0;
  virtual void did(std::size_t runs) = 0;
  virtual void found(JobPart part) = 0;
  /// Whether it should end without a result.
  virtual bool stopped() const = 0;
};

/// Gives the result as JSON, or nothing where it was stopped or, in `error`, why there is none.
using JobWork =
    std::function<std::optional<std::string>(JobProgress& progress, std::string& error)>;

/// Jobs that wait, run and are over. One of each kind runs at a time, on a thread of its own; what
/// is over is forgotten after half an hour, or when it is too much.
class JobBoard {
 public:
  explicit JobBoard(std::vector<std::string> kinds);
  /// Stops all of them.
  ~JobBoard();
  JobBoard(const JobBoard&) = delete;
  JobBoard& operator=(const JobBoard&) = delete;

  static constexpr std::size_t most_waiting = 16;
  static constexpr std::size_t most_over = 32;
  static constexpr std::chrono::minutes kept_for{30};

  /// The id; nothing where too many are waiting. The kind is one of those of the board.
  std::optional<std::string> submit(const std::string& kind, JobWork work);

  /// In the order they were submitted in.
  std::vector<JobReport> reports();
  std::optional<JobReport> report(const std::string& id);
  /// Of one that is done; null otherwise.
  std::shared_ptr<const std::string> result(const std::string& id);
  /// Cancels one that is not over, forgets one that is. False where there is none.
  bool remove(const std::string& id);

  struct News {
    JobReport report;
    std::vector<JobPart> parts;  ///< those after the ones seen
    std::uint64_t version = 0;
  };
  /// What is new since `parts_seen`; nothing where there is no such job any more.
  std::optional<News> news(const std::string& id, std::size_t parts_seen);
  /// `told` is called whenever there is news of any job, from any thread: it must be quick, and not
  /// ask the board. Empty: nobody is told.
  void tell(std::function<void()> told);

  /// Cancels all jobs, takes no more, and waits for those that run.
  void stop();

 private:
  struct Job;
  class Progress;
  using JobPtr = std::shared_ptr<Job>;

  void work_on(const std::string& kind);
  JobPtr next_of(const std::string& kind) const;
  JobPtr find(const std::string& id) const;
  void changed();
  static void end(Job& job, JobState state);
  void forget_old();

  std::mutex mutex_;
  std::condition_variable to_do_;
  std::function<void()> told_;
  std::vector<JobPtr> jobs_;
  std::string id_stem_;
  std::uint64_t submitted_ = 0;
  bool stopping_ = false;
  std::vector<std::thread> workers_;
};

}  // namespace panup
