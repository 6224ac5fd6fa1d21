#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/way.h"

namespace panup {

/// Says by the rules of kind `standing_place` at which stops and signals a raised pantograph would
/// stand where none may, in what, and how much earlier the train has to stop for all of them to be
/// clear. At a stop both what is up on arrival and what is up on departure counts. A finding that
/// needs consent makes the answer of its section so. After a reversal, what lies before it is not
/// looked at.
void add_standing_findings(const PlanningCase& planning, const Way& way,
                           std::vector<PlannedSection>& sections);

}  // namespace panup
