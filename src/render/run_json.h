#pragma once

#include <nlohmann/json.hpp>

#include "plan/run_plan.h"

namespace panup {

/// The plan of a run for scripts: totals, all orders in one list, and the plan of each part. The
/// fields stand, with meaning and units, in `docs/schema/run.schema.json`.
nlohmann::ordered_json run_to_json(const RunPlan& run);

/// The plan of a train for scripts: of one part, as of any plan, of several, as of a run.
nlohmann::ordered_json train_plan_to_json(const RunPlan& run);

}  // namespace panup
