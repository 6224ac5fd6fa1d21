/// A steady force that moves along an endless string on an elastic foundation.
/// Source: closed form, w₀ = F/(2 √(κ T (1 − v²/c²))).

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "agreement.h"
#include "bare_wires.h"
#include "dynamics/line_motion.h"

namespace panup::validation {

Agreement string_on_foundation() {
  constexpr double force_n = 100;
  constexpr double foundation_n_per_m2 = 1500;
  constexpr double length_m = 400;
  Agreement agreement;
  agreement.title = "A force moving along a string on an elastic foundation";
  agreement.statement =
      "Lift under 100 N that run along an endless string, 20 kN and 1.35 kg/m, held by 1500 N/m² "
      "all "
      "along: a spring to the ground on every node.";
  agreement.source = "closed form, F/(2 √(κ T (1 − v²/c²)))";
  Wire wire;
  wire.tension_n = 20000;
  wire.mass_kg_per_m = 1.35;
  for (const double step_s : {0.002, 0.0005}) {
    for (const double speed_ms : {5.0, 50.0, 90.0}) {
      LineGrid grid = bare_wires(wire, wire, length_m, step_s);
      const GridWire& string = grid.wires[0];
      for (int node = 1; node < string.cells; ++node) {
        GridSpring spring;
        spring.kind = SpringKind::support;
        spring.at_m = node * string.spacing_m;
        spring.lower = node_point(0, node);
        spring.grounded = true;
        spring.compliance_m_per_n = 1 / (foundation_n_per_m2 * string.spacing_m);
        spring.static_force_n = std::numeric_limits<double>::infinity();
        grid.springs.push_back(spring);
      }
      GridWire moving = string;
      moving.tension_n -= wire.mass_kg_per_m * speed_ms * speed_ms;
      const auto missing = missing_lifts(moving);
      LineMotion motion(grid, step_s);
      // Put on over the first half of the way, so that nothing is left of the beginning.
      const double start_m = 100;
      const double way_m = speed_ms < 20 ? 20 : 200;
      const auto steps = static_cast<long>(way_m / speed_ms / step_s);
      double mean = 0;
      long counted = 0;
      for (long step = 0; step < steps; ++step) {
        const double run = static_cast<double>(step) / static_cast<double>(steps);
        const double t = std::min(1.0, run / 0.7);
        const double share = t * t * t * (10 - 15 * t + 6 * t * t);
        motion.advance(std::numeric_limits<double>::infinity());
        const GridPoint here =
            grid_point(grid, 0, start_m + speed_ms * step_s * static_cast<double>(step));
        if (run > 0.9) {
          mean += motion.lift(here) + force_n * missing_compliance(missing, here.share);
          ++counted;
        }
        motion.press({here, share * force_n});
        motion.accept();
      }
      mean /= static_cast<double>(counted);
      const double c2 = wire.tension_n / wire.mass_kg_per_m;
      const double theirs =
          force_n /
          (2 * std::sqrt(foundation_n_per_m2 * wire.tension_n * (1 - speed_ms * speed_ms / c2)));
      agreement.rows.push_back(
          figure(fmt::format("{:g} km/h, step {:g} ms", 3.6 * speed_ms, 1000 * step_s), "mm",
                 1000 * mean, 1000 * theirs, (step_s < 0.001 ? 0.005 : 0.02) * 1000 * theirs));
    }
  }
  return agreement;
}

}  // namespace panup::validation
