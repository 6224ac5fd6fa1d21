#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "comparison/compare_plans.h"

namespace panup {

/// "STILL HOLDS", or what changed, in words; with the cautions of today's plan.
std::string comparison_to_text(const PlanComparison& comparison, const RunPlan& now);

/// The same for scripts; the fields stand in `docs/schema/plan-comparison.schema.json`.
nlohmann::ordered_json comparison_to_json(const PlanComparison& comparison, const RunPlan& now);

}  // namespace panup
