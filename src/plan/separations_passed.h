#pragma once

#include <vector>

#include "plan/way.h"

namespace panup {

/// The deciding moments of the separation sections of stated zones that a way passes with
/// pantographs up, one for each configuration it passes them in, in order.
std::vector<SeparationMoment> moments_on(const PlanningCase& planning, const Way& way);

}  // namespace panup
