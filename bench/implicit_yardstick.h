#pragma once

#include <vector>

#include "dynamics/line_grid.h"
#include "dynamics/simulate.h"
#include "dynamics/statics.h"

namespace panup::bench {

/// Contact force of one pantograph along a line, by what one would write first: the same grid,
/// step, contact, start and pantograph as `simulate`, but the wires with all droppers taut in one
/// sparse matrix, trapezoidal rule, factored once by Eigen's LDLT; droppers that go slack and the
/// contact force enter on the right-hand side, found by solving again until they hold to
/// 0.1 N.
struct Yardstick {
  std::vector<double> forces_n;  ///< by step
  double simulated_s = 0;
  double solves_per_step = 0;
};

Yardstick run_yardstick(const LineGrid& grid, const StaticState& state,
                        const SimulationRequest& request, double step_s);

}  // namespace panup::bench
