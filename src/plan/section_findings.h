#pragma once

#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"

namespace panup {

/// Drops what says the same as an earlier finding, and orders by strength.
void tidy(std::vector<Finding>& findings);

/// The finding that decides the speed; null where no rule limits it.
const Finding* deciding_finding(const Verdict& verdict, const std::vector<Finding>& findings);

/// Adds a finding to the section of the plan that `km` is in, or ends: not where nothing is
/// permitted. One that needs consent makes the answer of the section so, unless the train file
/// names a consent for its rule there: then that is said, and the finding is a note.
void add_finding_at(const PlanRequest& request, double km, Finding finding,
                    std::vector<PlannedSection>& sections);

/// Fills in which section values are of, where findings say no more than that it is the one under
/// the front of the train, and where the values of sections come from.
void name_sections(const Route& route, const Section& front, std::vector<Finding>& findings,
                   const Words& words);

/// The piece of route that `km` is in, or ends.
std::size_t piece_reaching(const PlanningCase& planning, double km);

}  // namespace panup
