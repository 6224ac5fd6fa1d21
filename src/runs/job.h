#pragma once
/// One sweep of runs over many processes and hosts, by MPI. Every process of a
/// job reads the same files and asks for the same runs; one of them leads: it looks up what is
/// kept, deals the rest out to the others as they ask for work, keeps each result as it comes, and
/// at the end sends every process all figures, so that all go on alike. Built without MPI there is
/// never a job.

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "quality/run_figures.h"
#include "runs/run_keeper.h"

namespace panup {

/// What a leading process tells of its work.
struct JobEvents {
  std::function<void(std::size_t)> expect;  ///< so many runs have to be computed
  std::function<void(std::size_t)> done;    ///< so many more are
  std::function<bool()> stopped;            ///< asked again and again: whether to stop
};

/// This process's part in a job of several processes on hosts of one kind. It ends the job when it
/// is destroyed.
class Job {
 public:
  Job(const Job&) = delete;
  Job& operator=(const Job&) = delete;
  virtual ~Job() = default;

  virtual bool leads() const = 0;
  virtual int processes() const = 0;

  /// Runs for the leading process: kept ones, and the rest computed by the others.
  virtual RunSource leading(RunKeeper& keeper, JobEvents events) = 0;
  /// Runs for the others, which compute what they are given with `compute`; while they wait, they
  /// ask `stopped` whether to stop.
  virtual RunSource following(RunSource compute, std::function<bool()> stopped) = 0;
  /// What the runs that all its processes computed have cost: each process is told the same, with
  /// the figures that it gets.
  virtual RunsSpent spent() const = 0;
  /// Ends all processes of the job at once, with an exit status.
  [[noreturn]] virtual void abandon(int status) = 0;

 protected:
  Job() = default;
};

/// What came of looking for a job.
struct JoinedJob {
  std::unique_ptr<Job> job;  ///< null where this process stands alone
  std::string wrong;         ///< empty unless it was started in a job that it cannot take part in
};

/// Joins the job that this process was started in, by the signs that an MPI launcher leaves in its
/// environment.
JoinedJob join_job();

}  // namespace panup
