#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"

namespace panup {

/// How near every section with pantographs up comes to limits, in order. `speeds` is what is known
/// of the mechanics; null where it was not asked.
std::vector<SectionMargins> margins_on(const PlanningCase& planning,
                                       const std::vector<PlannedSection>& sections,
                                       MechanicsSpeeds* speeds);

}  // namespace panup
