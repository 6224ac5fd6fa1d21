#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "runs/run_store.h"

namespace panup {

/// A batch of requests, sorted into what is kept and what has to be computed.
struct SortedRuns {
  std::vector<std::string> keys;                 ///< by request
  std::vector<std::optional<RunFigures>> known;  ///< by request
  std::vector<std::size_t> missing;              ///< requests to be computed, each content once
};

/// Looks runs up and keeps them, in a store or, without one, not at all. Where the store cannot be
/// written, it says so once and goes on without keeping; where kept runs are damaged, it says so
/// once.
class RunKeeper {
 public:
  /// `warn` gets the message.
  RunKeeper(std::optional<RunStore> store, std::function<void(const std::string&)> warn)
      : store_(std::move(store)), warn_(std::move(warn)) {}

  SortedRuns sort(const std::vector<SimulationRequest>& requests);
  /// Keeps those of `missing`, which are known by now, in one transaction.
  void keep(const SortedRuns& runs, const std::vector<std::size_t>& missing);

  bool keeps() const { return store_ && !failed_; }
  std::size_t kept() const { return kept_; }
  const RunStore* store() const { return store_ ? &*store_ : nullptr; }

 private:
  std::optional<RunStore> store_;
  std::function<void(const std::string&)> warn_;
  bool failed_ = false;
  bool said_unreadable_ = false;
  std::size_t kept_ = 0;
};

/// Runs that are kept, and the rest from `compute`, handed to it and kept in batches of `batch`.
/// `expect` gets the number that has to be computed. The keeper must outlive it.
RunSource kept_runs(RunKeeper& keeper, RunSource compute, std::size_t batch,
                    std::function<void(std::size_t)> expect);

/// All figures, once every request has been taken in.
std::vector<RunFigures> whole(SortedRuns runs);

}  // namespace panup
