#pragma once

#include <vector>

#include "cli/output_files.h"
#include "plan/plan.h"
#include "plan/run_plan.h"

namespace panup {

/// What the numbered sheets of a card are called before their number.
inline constexpr const char* card_stem = "card";

/// What is handed out of a plan: the plan as text and JSON, its sections and orders as CSV, the
/// driver's card, the engineer's report.
std::vector<OutputFile> plan_sheets(const Plan& plan);

/// What is handed out of a run: the plan as text and JSON, its sections and orders as CSV, one card
/// that shows each part, and what is handed out of each part alone, called after its number.
std::vector<OutputFile> run_sheets(const RunPlan& run);

/// What is handed out of a train: of one part, as of any plan, of several, as of a run.
std::vector<OutputFile> train_sheets(const RunPlan& run);

}  // namespace panup
