#pragma once

#include <vector>

#include "plan/course.h"
#include "plan/plan.h"

namespace panup {

/// The stretches of a way as they are handed out, with all that is said of them: neighbouring
/// pieces of one route section with the same configuration, speed and conditions are one.
std::vector<PlannedSection> planned_sections(const PlanningCase& planning, const Course& course,
                                             PantographSet defective);

/// Worst first: none, consent needed, permitted.
Answer worst(const std::vector<PlannedSection>& sections);

}  // namespace panup
