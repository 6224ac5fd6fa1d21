#pragma once

#include <string>

#include "plan/run_plan.h"

namespace panup {

/// The plan of a run for people: that of each part, under its own heading where there are several.
std::string run_to_text(const RunPlan& run);

}  // namespace panup
