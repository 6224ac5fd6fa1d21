#pragma once

#include <string>
#include <vector>

#include "plan/make_plan.h"
#include "plan/way.h"

namespace panup {

/// What is to be known of a plan as a whole, one sentence each: what in it is invented or ordered,
/// what it rests on, and what was not checked.
std::vector<std::string> general_notes(const PlanRequest& request);

/// Of a long train: how many configurations were judged, and down to which step the ladder's best
/// is certain; empty where all were judged.
std::vector<std::string> search_notes(const PlanningCase& planning, const Way& way);

}  // namespace panup
