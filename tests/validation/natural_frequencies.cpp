/// Natural frequencies of a tensioned beam on two supports.
/// Source: closed form, fₙ = (n/2L) √(T/m′) √(1 + n²π²EI/(TL²)).

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "agreement.h"
#include "bare_wires.h"
#include "dynamics/line_motion.h"

namespace panup::validation {
namespace {

constexpr double length_m = 60;
constexpr double all = std::numeric_limits<double>::infinity();

/// Struck in the shape of mode n and left alone: the frequency of its zero crossings.
double frequency(const Wire& wire, int mode, double step_s) {
  const LineGrid grid = bare_wires(wire, wire, length_m, step_s);
  LineMotion motion(grid, step_s);
  const int cells = grid.wires[0].cells;
  motion.advance(all);
  for (int node = 1; node < cells; ++node) {
    motion.press({node_point(0, node), std::sin(std::numbers::pi * mode * node / cells)});
  }
  motion.accept();
  const GridPoint belly = grid_point(grid, 0, length_m / (2 * mode));
  double before = motion.lift(belly);
  double first = -1;
  double last = 0;
  int crossings = 0;
  for (long step = 1; crossings <= 40; ++step) {
    motion.advance(all);
    motion.accept();
    const double now = motion.lift(belly);
    if (before > 0 && now <= 0) {
      last = (static_cast<double>(step) + before / (before - now)) * step_s;
      first = first < 0 ? last : first;
      ++crossings;
    }
    before = now;
  }
  return (crossings - 1) / (last - first);
}

double closed_form(const Wire& wire, int mode) {
  const double n = mode;
  return n / (2 * length_m) * wave_speed(wire) *
         std::sqrt(1 + n * n * std::numbers::pi * std::numbers::pi * wire.bending_stiffness_nm2 /
                           (wire.tension_n * length_m * length_m));
}

Wire contact_wire(double bending_stiffness_nm2) {
  Wire wire;
  wire.tension_n = 20000;
  wire.mass_kg_per_m = 1.35;
  wire.bending_stiffness_nm2 = bending_stiffness_nm2;
  return wire;
}

}  // namespace

Agreement natural_frequencies() {
  Agreement agreement;
  agreement.title = "Natural frequencies of a tensioned beam";
  agreement.statement =
      "A wire of 60 m on two supports, 20 kN and 1.35 kg/m, struck in the shape of a mode, swings "
      "with "
      "the frequency fₙ = (n/2L) √(T/m′) √(1 + n²π²EI/(TL²)).";
  agreement.source = "closed form";
  for (const double stiffness : {0.0, 200.0, 1000.0}) {
    const Wire wire = contact_wire(stiffness);
    for (const int mode : {1, 3, 10, 30}) {
      const double theirs = closed_form(wire, mode);
      agreement.rows.push_back(figure(fmt::format("EI = {:g} N·m², n = {}", stiffness, mode), "Hz",
                                      frequency(wire, mode, 0.001), theirs, 2e-3 * theirs));
    }
  }
  Table table{"Error of mode 30 with EI = 1000 N·m² over the step; the grid follows the step",
              {"step, ms", "error, %"},
              {}};
  const Wire wire = contact_wire(1000);
  for (const double step_s : {0.004, 0.002, 0.001, 0.0005}) {
    const double theirs = closed_form(wire, 30);
    table.rows.push_back({fmt::format("{:g}", 1000 * step_s),
                          fmt::format("{:.5f}", 100 * (frequency(wire, 30, step_s) / theirs - 1))});
  }
  agreement.tables.push_back(std::move(table));
  return agreement;
}

}  // namespace panup::validation
