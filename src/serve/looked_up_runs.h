#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>

#include "requests/run_input.h"
#include "runs/run_keeper.h"
#include "serve/plan_requests.h"

namespace panup {

/// Who waits for runs.
struct RunsWatch {
  Stopped stopped = {};                          ///< asked before each batch
  std::function<void(std::size_t)> expect = {};  ///< so many runs have to be computed; may be empty
  std::function<void(std::size_t)> did = {};     ///< so many more are; may be empty
};

/// Runs of the mechanics for one request or job: looked up in the server's store, or computed and
/// kept there, a few at a time, so that progress is seen and it can be stopped.
class LookedUpRuns {
 public:
  LookedUpRuns(const PlanningPlace& place, RunsWatch watch);

  /// It must not outlive this object.
  RunSource source();

 private:
  std::optional<std::string> store_;
  std::optional<RunKeeper> keeper_;  ///< opened with the first source
  int jobs_;
  RunsWatch watch_;
};

/// Makes what was read ready to be planned: it asks whether it is stopped and, where speeds are not
/// by the tables alone, asks the mechanics. Both must outlive the planning.
void make_ready(RunInput& input, LookedUpRuns& runs, const Stopped& stopped);

}  // namespace panup
