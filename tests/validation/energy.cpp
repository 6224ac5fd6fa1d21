/// Energy: what is put in is stored or dissipated.
/// Source: mechanics. The stored energy is the one that central differences conserve: velocities at
/// half steps, ½ u(n+1)ᵀ K u(n) for the wires.

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "agreement.h"
#include "dynamics/line_motion.h"
#include "dynamics/prepared_line.h"
#include "reference.h"

namespace panup::validation {
namespace {

/// Struck once and left alone with all droppers taut: how far the energy drifts.
double drift(double step_s, long steps) {
  const ContactLine line = reference_line(10);
  const PreparedLine prepared = prepare_line(line, {});
  LineGrid grid = std::get<LineGrid>(make_grid(line, prepared.state, step_s, 0));
  for (GridSpring& spring : grid.springs) {
    spring.static_force_n = std::numeric_limits<double>::infinity();
  }
  LineMotion motion(grid, step_s);
  motion.advance(grid.length_m);
  motion.press({grid_point(grid, 0, 333), 5000});
  motion.accept();
  const LineEnergy first = motion.energy();
  const double begun = first.kinetic_j + first.potential_j;
  double furthest = 0;
  for (long step = 0; step < steps; ++step) {
    motion.advance(grid.length_m);
    motion.accept();
    if (step % 100 == 0) {
      const LineEnergy now = motion.energy();
      furthest = std::max(furthest, std::abs(now.kinetic_j + now.potential_j - begun));
    }
  }
  return furthest / begun;
}

}  // namespace

Agreement energy() {
  Agreement agreement;
  agreement.title = "Energy";
  agreement.statement =
      "Without damping and with all droppers taut, a line that was struck keeps its energy. In a "
      "run, the "
      "work of the frames and of the train's motion is what is stored and what is dissipated. What "
      "is "
      "missing comes from droppers that go slack and taut within a step, and falls with it.";
  agreement.source = "mechanics";
  agreement.rows.push_back(
      figure("drift over 100,000 steps of 2 ms", "%", 100 * drift(0.002, 100000), 0, 1e-6));
  const ContactLine line = reference_line(10);
  Table table{"The reference model, ten spans, 300 km/h: what is missing in the balance",
              {"step, ms", "frames, J", "train, J", "stored, J", "dissipated, J", "missing, J",
               "of the peak, %"},
              {}};
  for (const double step_s : {0.002, 0.0015, 0.001, 0.0005, 0.00025}) {
    SimulationRequest request = reference_request(line, 300, 120, {});
    request.settings.step_s = step_s;
    const EnergyBalance energy = result_of(request).energy;
    table.rows.push_back(
        {fmt::format("{:g}", 1000 * step_s), fmt::format("{:.3f}", energy.work_of_frames_j),
         fmt::format("{:.3f}", energy.work_of_traction_j), fmt::format("{:.3f}", energy.stored_j),
         fmt::format("{:.3f}", energy.dissipated_j), fmt::format("{:.4f}", energy.missing_j),
         fmt::format("{:.3f}", 100 * energy.relative_error())});
    if (step_s == 0.00025) {
      agreement.rows.push_back(figure("missing of the peak stored, 0.25 ms", "%",
                                      100 * energy.relative_error(), 0, 0.1));
    } else if (step_s == default_step_s) {
      agreement.rows.push_back(
          figure("missing of the peak stored, 1.5 ms", "%", 100 * energy.relative_error(), 0, 1));
    }
  }
  agreement.tables.push_back(std::move(table));
  return agreement;
}

}  // namespace panup::validation
