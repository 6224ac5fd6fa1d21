#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/stands.h"

namespace panup {

/// By the rules of kind `standing_place`: says at which stands a raised pantograph would be where
/// none may stand, in what, and how much earlier the train has to stop so that all are clear. At a
/// stop, what is up on arrival counts and what is up on departure. After a reversal, what lies
/// before it is not looked at.
void add_place_findings(const PlanningCase& planning, const std::vector<Stand>& stands,
                        std::vector<PlannedSection>& sections);

}  // namespace panup
