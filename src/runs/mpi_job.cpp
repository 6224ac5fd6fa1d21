#include "runs/mpi_job.h"

#include <mpi.h>

#include <chrono>
#include <cstdlib>
#include <stdexcept>
#include <thread>
#include <vector>

#include "runs/bytes.h"
#include "runs/figures_bytes.h"

namespace panup {

namespace {

constexpr int leader = 0;
/// A worker's results with the processor time that they took, which ask for more work; a leader's
/// work; what was spent and all figures at the end of a batch.
constexpr int tag_results = 1;
constexpr int tag_work = 2;
constexpr int tag_all = 3;
/// Runs dealt out at once: few, so that no process waits long for another's last ones, and little
/// is lost where one dies.
constexpr std::size_t dealt_at_once = 4;
/// A leader that is stopped has told what is kept by then. Launchers that end a job by a signal
/// wait longer before they kill; from memory, Open MPI five seconds.
constexpr std::chrono::seconds leader_speaks_within{1};

void send(const std::string& bytes, int to, int tag) {
  MPI_Send(bytes.data(), static_cast<int>(bytes.size()), MPI_BYTE, to, tag, MPI_COMM_WORLD);
}

struct Received {
  std::string bytes;
  int from = 0;
};

/// What has come with this tag, if anything has.
std::optional<Received> received(int from, int tag) {
  int there = 0;
  MPI_Status status;
  MPI_Iprobe(from, tag, MPI_COMM_WORLD, &there, &status);
  if (there == 0) {
    return std::nullopt;
  }
  int size = 0;
  MPI_Get_count(&status, MPI_BYTE, &size);
  Received message{std::string(static_cast<std::size_t>(size), '\0'), status.MPI_SOURCE};
  MPI_Recv(message.bytes.data(), size, MPI_BYTE, message.from, tag, MPI_COMM_WORLD,
           MPI_STATUS_IGNORE);
  return message;
}

/// MPI waits by spinning, which would take a processor from whoever computes.
void rest() { std::this_thread::sleep_for(std::chrono::milliseconds(1)); }

/// Nothing where it was stopped before anything came.
std::optional<Received> wait_for(int from, int tag, const std::function<bool()>& stopped) {
  while (!stopped()) {
    if (auto message = received(from, tag)) {
      return message;
    }
    rest();
  }
  return std::nullopt;
}

/// A message of a process of the same job that cannot be read is a fault of the program.
[[noreturn]] void unreadable() { throw std::runtime_error("a message of the MPI job is garbled"); }

std::uint64_t count_in(ByteReader& message) {
  std::uint64_t count = 0;
  if (!message.count(count)) {
    unreadable();
  }
  return count;
}

RunFigures figures_in(ByteReader& message) {
  std::string_view bytes;
  auto figures = message.text(bytes) ? figures_from(bytes) : std::nullopt;
  if (!figures) {
    unreadable();
  }
  return std::move(*figures);
}

double time_in(ByteReader& message) {
  double core_s = 0;
  if (!message.figures(core_s)) {
    unreadable();
  }
  return core_s;
}

std::string all_figures(const RunsSpent& spent, const std::vector<RunFigures>& figures) {
  ByteWriter message;
  message.count(spent.runs);
  message.figures(spent.core_s);
  for (const RunFigures& one : figures) {
    message.text(to_bytes(one));
  }
  return message.bytes();
}

class MpiJob : public Job {
 public:
  MpiJob() {
    MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
    MPI_Comm_size(MPI_COMM_WORLD, &size_);
  }
  ~MpiJob() override { MPI_Finalize(); }

  bool leads() const override { return rank_ == leader; }
  int processes() const override { return size_; }

  RunSource leading(RunKeeper& keeper, JobEvents events) override {
    return [this, &keeper,
            events = std::move(events)](const std::vector<SimulationRequest>& requests) {
      return lead(keeper, events, requests);
    };
  }

  RunSource following(RunSource compute, std::function<bool()> stopped) override {
    return [this, compute = std::move(compute),
            stopped = std::move(stopped)](const std::vector<SimulationRequest>& requests) {
      return follow(compute, stopped, requests);
    };
  }

  RunsSpent spent() const override { return spent_; }

  void abandon(int status) override {
    // Who aborts ends all others at once, and the leader has yet to say what is kept: it goes
    // first.
    if (!leads()) {
      std::this_thread::sleep_for(leader_speaks_within);
    }
    MPI_Abort(MPI_COMM_WORLD, status);
    std::abort();
  }

 private:
  /// Deals the missing runs out. False where it was stopped.
  bool deal_out(RunKeeper& keeper, const JobEvents& events, SortedRuns& runs) {
    std::size_t next = 0;
    int working = size_ - 1;
    while (working > 0) {
      if (events.stopped()) {
        return false;
      }
      const auto message = received(MPI_ANY_SOURCE, tag_results);
      if (!message) {
        rest();
        continue;
      }
      take_results(message->bytes, keeper, events, runs);
      ByteWriter work;
      for (std::size_t i = 0; i < dealt_at_once && next < runs.missing.size(); ++i) {
        work.count(runs.missing[next++]);
      }
      working -= work.bytes().empty() ? 1 : 0;
      send(work.bytes(), message->from, tag_work);
    }
    return true;
  }

  void take_results(const std::string& bytes, RunKeeper& keeper, const JobEvents& events,
                    SortedRuns& runs) {
    ByteReader results(bytes);
    if (!results.at_end()) {
      spent_.core_s += time_in(results);
    }
    std::vector<std::size_t> done;
    while (!results.at_end()) {
      done.push_back(static_cast<std::size_t>(count_in(results)));
      runs.known.at(done.back()) = figures_in(results);
    }
    if (!done.empty()) {
      keeper.keep(runs, done);
      spent_.runs += done.size();
      events.done(done.size());
    }
  }

  std::optional<std::vector<RunFigures>> lead(RunKeeper& keeper, const JobEvents& events,
                                              const std::vector<SimulationRequest>& requests) {
    SortedRuns runs = keeper.sort(requests);
    events.expect(runs.missing.size());
    if (!deal_out(keeper, events, runs)) {
      return std::nullopt;
    }
    auto figures = whole(std::move(runs));
    const std::string all = all_figures(spent_, figures);
    for (int other = 1; other < size_; ++other) {
      send(all, other, tag_all);
    }
    return figures;
  }

  std::optional<std::vector<RunFigures>> follow(const RunSource& compute,
                                                const std::function<bool()>& stopped,
                                                const std::vector<SimulationRequest>& requests) {
    std::string results;
    while (true) {
      send(results, leader, tag_results);
      const auto message = wait_for(leader, tag_work, stopped);
      if (!message) {
        return std::nullopt;
      }
      if (message->bytes.empty()) {
        break;
      }
      ByteReader work(message->bytes);
      std::vector<std::uint64_t> numbers;
      std::vector<SimulationRequest> asked;
      while (!work.at_end()) {
        numbers.push_back(count_in(work));
        asked.push_back(requests.at(numbers.back()));
      }
      const double began_s = core_seconds();
      const auto figures = compute(asked);
      if (!figures) {
        return std::nullopt;
      }
      ByteWriter done;
      done.figures(core_seconds() - began_s);
      for (std::size_t i = 0; i < numbers.size(); ++i) {
        done.count(numbers[i]);
        done.text(to_bytes((*figures)[i]));
      }
      results = done.bytes();
    }
    const auto all = wait_for(leader, tag_all, stopped);
    if (!all) {
      return std::nullopt;
    }
    ByteReader reader(all->bytes);
    spent_.runs = static_cast<std::size_t>(count_in(reader));
    spent_.core_s = time_in(reader);
    std::vector<RunFigures> figures;
    figures.reserve(requests.size());
    for (std::size_t i = 0; i < requests.size(); ++i) {
      figures.push_back(figures_in(reader));
    }
    return figures;
  }

  RunsSpent spent_;
  int rank_ = 0;
  int size_ = 1;
};

}  // namespace

JoinedJob join_mpi_job() {
  int provided = 0;
  if (MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &provided) != MPI_SUCCESS) {
    return {nullptr, "the MPI job that it was started in cannot be joined"};
  }
  return {std::make_unique<MpiJob>(), {}};
}

}  // namespace panup
