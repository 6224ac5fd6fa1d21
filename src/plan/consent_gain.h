#pragma once

#include <string>
#include <vector>

#include "plan/plan.h"
#include "plan/way.h"

namespace panup {

/// What consents of the infrastructure manager would gain over the plan, which does without them:
/// a note on each section where one would be used, and one in the returned list for the whole.
/// Nothing where they would gain nothing.
std::vector<std::string> add_consent_gain(const PlanningCase& planning, const Way& way,
                                          PantographSet defective,
                                          std::vector<PlannedSection>& sections);

}  // namespace panup
