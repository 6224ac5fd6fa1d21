#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"

namespace panup {

/// Says of every failure on the road which loads are exposed by what goes up instead. A failure is
/// cut in two where that changes, as it does where the train reverses.
void add_exposure(const PlanningCase& planning, std::vector<Contingency>& contingencies);

}  // namespace panup
