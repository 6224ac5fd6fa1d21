#pragma once

#include <vector>

#include "plan/orders.h"
#include "plan/powerless.h"
#include "plan/stand_current.h"
#include "plan/stands.h"

namespace panup {

/// How the train goes along a way: where it stands, what it is ordered to do, where it runs without
/// power. All of it is places and figures, worked out once.
struct Course {
  std::vector<Stand> stands;
  StandCurrents currents;
  StandPlaces places;
  Orders orders;
  std::vector<PowerlessStretch> powerless;
};

Course course_along(const PlanningCase& planning, const Way& way, PantographSet defective);

}  // namespace panup
