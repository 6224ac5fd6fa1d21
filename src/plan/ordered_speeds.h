#pragma once

#include <vector>

#include "plan/orders.h"
#include "plan/planning_case.h"
#include "plan/way.h"

namespace panup {

/// Cuts sections of a plan where another speed is ordered, and states in each part what is ordered
/// there and why: for the rest of the train, a change of pantographs, a stretch with pantographs
/// down. What the rules permit stays beside it.
std::vector<PlannedSection> with_ordered_speeds(const PlanningCase& planning, const Way& way,
                                                const std::vector<SpeedAlong>& speeds,
                                                PantographSet defective,
                                                std::vector<PlannedSection> sections);

}  // namespace panup
