#pragma once

#include <optional>

#include "cli/kept_runs.h"
#include "requests/plan_input.h"

namespace panup {

/// Opens the runs that speeds by the mechanics are taken from; `kept` stays empty where the tables
/// alone give them. False, and said why on standard error, where the runs cannot be opened.
bool open_runs(SpeedFrom speed_from, const KeptRunsOptions& options, int jobs,
               std::optional<KeptRuns>& kept);

/// Gives what is to be planned its threads and, where `kept` is open, its runs, which must outlive
/// it. From then on Ctrl-C stops the planning.
void make_ready(PlanInput& input, int jobs, std::optional<KeptRuns>& kept);

}  // namespace panup
