#pragma once

#include <string>
#include <vector>

#include "plan/make_plan.h"

namespace panup {

/// What is to be known of a plan as a whole, one sentence each: what in it is invented or ordered,
/// what it rests on, and what was not checked.
std::vector<std::string> general_notes(const PlanRequest& request);

}  // namespace panup
