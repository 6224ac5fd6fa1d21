#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/way.h"

namespace panup {

/// For each pantograph of the train that is not down for good: what the plan becomes when it has
/// failed from the start, and what is left when it fails on the road. In order of `V.P`; found side
/// by side on `jobs` threads (0: as many as there are), which changes nothing in the result.
std::vector<Contingency> find_contingencies(const PlanningCase& planning, const Way& way,
                                            const std::vector<PlannedSection>& planned, int jobs);

}  // namespace panup
