#pragma once

#include <vector>

#include "plan/coasting_findings.h"
#include "plan/orders.h"
#include "plan/powerless.h"
#include "plan/stand_current.h"
#include "plan/stands.h"

namespace panup {

/// How the train goes along a way: where it stands, what it is ordered to do, where it runs without
/// power. All of it is places and figures, worked out once.
struct Course {
  Way way;
  std::vector<Stand> stands;
  StandCurrents currents;
  StandPlaces places;
  Orders orders;
  std::vector<PowerlessStretch> powerless;
  std::optional<CannotCoast> ends_before;  ///< what the way ends before; nothing where it does not
};

/// The best way, and the course of the train along it. Where the train could not run through
/// several stretches without power in one, the way ends before them.
Course find_course(const PlanningCase& planning, PantographSet defective);

}  // namespace panup
