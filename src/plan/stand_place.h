#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/stands.h"

namespace panup {

/// Says by the rules of kind `standing_place` at which stands a raised pantograph would stand where
/// none may, in what, and how much earlier the train has to stop for all of them to be clear. At a
/// stop both what is up on arrival and what is up on departure counts. After a reversal, what lies
/// before it is not looked at.
void add_place_findings(const PlanningCase& planning, const std::vector<Stand>& stands,
                        std::vector<PlannedSection>& sections);

}  // namespace panup
