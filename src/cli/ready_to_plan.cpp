#include "cli/ready_to_plan.h"

#include "cli/interruption.h"
#include "plan/mechanics_answers.h"

namespace panup {

bool open_runs(SpeedFrom speed_from, const KeptRunsOptions& options, int jobs,
               std::optional<KeptRuns>& kept) {
  if (speed_from == SpeedFrom::tables) {
    return true;
  }
  kept = KeptRuns::open(options, jobs);
  return kept.has_value();
}

void make_ready(PlanInput& input, int jobs, std::optional<KeptRuns>& kept) {
  input.request.jobs = jobs;
  if (kept) {
    input.request.mechanics =
        mechanics_answers(input.mechanics.data, input.request.rules, kept->source());
    // Signals are only noted since the runs are open, so that making the plan has to ask for them.
    input.request.stopped = interrupted;
  }
}

}  // namespace panup
