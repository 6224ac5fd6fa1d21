#pragma once

#include <string>
#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/way.h"

namespace panup {

/// Says by the rule of kind `coasting`, in the section of the plan where each stretch without power
/// begins: how far, how long and how fast the train runs without power, or that it may come to a
/// stand there, at what speed it would not, and which pantographs would stand under live wire. A
/// finding that needs consent makes the answer of its section so. Where the train's mass or
/// running resistance or the gradient is not stated, nothing is said here: see
/// `add_coasting_notes`.
void add_coasting_findings(const PlanningCase& planning, const Way& way, PantographSet defective,
                           std::vector<PlannedSection>& sections);

/// Says through what it is not known whether the train comes to a stand, and why not.
void add_coasting_notes(const PlanningCase& planning, const std::vector<Instruction>& instructions,
                        std::vector<std::string>& notes);

/// Adds a finding to the section of the plan that `km` is in, or ends: not where nothing is
/// permitted.
void add_finding_at(double km, const Finding& finding, std::vector<PlannedSection>& sections);

/// The piece of route that `km` is in, or ends.
std::size_t piece_reaching(const PlanningCase& planning, double km);

}  // namespace panup
