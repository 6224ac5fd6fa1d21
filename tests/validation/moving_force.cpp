/// A constant force that moves along a wire on two supports.
/// Source: Frýba, Vibration of Solids and Structures under Moving Loads (from memory); the modal
/// series, closed form:
///     w(x, t) = Σ 2F/(m′L) · sin(nπx/L) · (sin Ωₙt − Ωₙ/ωₙ · sin ωₙt)/(ωₙ² − Ωₙ²),  Ωₙ = nπv/L.

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "agreement.h"
#include "bare_wires.h"
#include "dynamics/line_motion.h"

namespace panup::validation {
namespace {

constexpr double length_m = 100;
constexpr double force_n = 100;
constexpr double speed_ms = 70;
constexpr double step_s = 0.0005;

double series(const Wire& wire, double x, double t) {
  double sum = 0;
  for (int n = 1; n <= 20000; ++n) {
    const double k = n * std::numbers::pi / length_m;
    const double moving = k * speed_ms;
    const double own =
        k * std::sqrt((wire.tension_n + wire.bending_stiffness_nm2 * k * k) / wire.mass_kg_per_m);
    sum += std::sin(k * x) * (std::sin(moving * t) - moving / own * std::sin(own * t)) /
           (own * own - moving * moving);
  }
  return 2 * force_n / (wire.mass_kg_per_m * length_m) * sum;
}

}  // namespace

Agreement moving_force() {
  Agreement agreement;
  agreement.title = "A constant force moving along a wire";
  agreement.statement =
      "100 N run at 252 km/h along a wire of 100 m on two supports, 20 kN and 1.35 kg/m: lift "
      "under the "
      "force, which adds what the grid lacks there, and in the middle.";
  agreement.source =
      "modal series: Frýba, Vibration of Solids and Structures under Moving Loads (from memory)";
  for (const double stiffness : {0.0, 200.0}) {
    Wire wire;
    wire.tension_n = 20000;
    wire.mass_kg_per_m = 1.35;
    wire.bending_stiffness_nm2 = stiffness;
    const LineGrid grid = bare_wires(wire, wire, length_m, step_s);
    GridWire moving = grid.wires[0];
    moving.tension_n -= wire.mass_kg_per_m * speed_ms * speed_ms;
    const auto missing = missing_lifts(moving);
    LineMotion motion(grid, step_s);
    const GridPoint middle = grid_point(grid, 0, length_m / 2);
    long step = 0;
    for (const double place : {0.2, 0.45, 0.7, 0.9}) {
      const auto until = static_cast<long>(std::lround(place * length_m / speed_ms / step_s));
      for (; step < until; ++step) {
        motion.advance(std::numeric_limits<double>::infinity());
        motion.press({grid_point(grid, 0, speed_ms * step_s * static_cast<double>(step)), force_n});
        motion.accept();
      }
      const double t = step_s * static_cast<double>(until);
      const GridPoint here = grid_point(grid, 0, speed_ms * t);
      const double under = motion.lift(here) + force_n * missing_compliance(missing, here.share);
      const std::string with =
          fmt::format(", force at {:g} m, EI = {:g} N·m²", 100 * place, stiffness);
      const double theirs = 1000 * series(wire, speed_ms * t, t);
      agreement.rows.push_back(figure("under the force" + with, "mm", 1000 * under, theirs, 0.3));
      const double in_middle = 1000 * series(wire, length_m / 2, t);
      agreement.rows.push_back(
          figure("in the middle" + with, "mm", 1000 * motion.lift(middle), in_middle, 0.3));
    }
  }
  return agreement;
}

}  // namespace panup::validation
