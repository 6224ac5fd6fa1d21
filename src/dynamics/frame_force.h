#pragma once

#include <vector>

#include "dynamics/run_course.h"
#include "dynamics/simulate.h"

namespace panup {

/// What presses the lowest mass of a pantograph up, beside its springs. The spring at the bottom is
/// measured from height 0, and without a lift the head stands on the wire where the run begins.
struct FrameForce {
  double at_start_n = 0;  ///< holds the spring at the bottom, and presses nothing
  double risen_n = 0;     ///< what comes to it once the force has risen

  double at(double share) const { return at_start_n + share * risen_n; }
};

/// For each pantograph of a run. The head presses on the wire with its static force at the height
/// at which that is stated; where none is stated, at the mean height that it has on this line at a
/// crawl, so that its mean contact force is the static force then, whatever its springs. A spring
/// at the bottom takes from it above that height, and adds below.
std::vector<FrameForce> frame_forces(const SimulationRequest& request, const StaticState& state,
                                     const RunCourse& course);

}  // namespace panup
