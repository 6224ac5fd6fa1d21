/// Waves on a wire: their speed, and what point masses and droppers throw back.
/// Sources: wave speed √(T/m′); reflection at a point mass, R(ω) = −iωM/(2Z + iωM) with Z = √(m′T);
/// reflection at a taut, massless, rigid dropper, r = √(m′ₘTₘ)/(√(m′ₘTₘ) + √(m′T)): Kiessling,
/// Puschmann, Schmieder, Contact Lines for Electric Railways (from memory). The latter two follow
/// from the impedance Z of a wire, 2Z for one that goes on both ways.

#include <fmt/format.h>

#include <cmath>
#include <complex>
#include <limits>
#include <numbers>

#include "agreement.h"
#include "bare_wires.h"
#include "dynamics/line_motion.h"

namespace panup::validation {
namespace {

constexpr double length_m = 700;
constexpr double source_m = 200;
constexpr double probe_m = 280;
constexpr double obstacle_m = 380;
constexpr double step_s = 0.0005;
constexpr double burst_s = 0.5;   ///< when the burst is at its greatest
constexpr double width_s = 0.11;  ///< of the burst

Wire contact_wire() {
  Wire wire;
  wire.tension_n = 20000;
  wire.mass_kg_per_m = 1.35;
  return wire;
}

Wire messenger_wire() {
  Wire wire;
  wire.tension_n = 16000;
  wire.mass_kg_per_m = 1.07;
  return wire;
}

double burst(double t, double frequency_hz) {
  const double u = (t - burst_s) / width_s;
  return 100 * std::exp(-u * u / 2) * std::cos(2 * std::numbers::pi * frequency_hz * t);
}

/// Velocities at the probe while a burst passes it and comes back.
std::vector<double> probe(const LineGrid& grid, double frequency_hz) {
  LineMotion motion(grid, step_s);
  const GridPoint source = grid_point(grid, 0, source_m);
  const GridPoint at = grid_point(grid, 0, probe_m);
  std::vector<double> velocity;
  double before = 0;
  for (long step = 0; step < static_cast<long>(3.6 / step_s); ++step) {
    motion.advance(std::numeric_limits<double>::infinity());
    motion.press({source, burst(step_s * static_cast<double>(step), frequency_hz)});
    motion.accept();
    const double now = motion.lift(at);
    velocity.push_back((now - before) / step_s);
    before = now;
  }
  return velocity;
}

/// Amplitude at a frequency in the window about a moment.
double amplitude(const std::vector<double>& values, double about_s, double frequency_hz) {
  std::complex<double> sum = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double t = step_s * static_cast<double>(i);
    if (std::abs(t - about_s) < 5 * width_s) {
      sum += values[i] * std::polar(1.0, -2 * std::numbers::pi * frequency_hz * t);
    }
  }
  return std::abs(sum);
}

double reflected_share(const LineGrid& grid, double frequency_hz) {
  const double c = wave_speed(contact_wire());
  const std::vector<double> velocity = probe(grid, frequency_hz);
  const double there = burst_s + (probe_m - source_m) / c;
  const double back = there + 2 * (obstacle_m - probe_m) / c;
  return amplitude(velocity, back, frequency_hz) / amplitude(velocity, there, frequency_hz);
}

/// When the middle of a slow burst passes a place.
double passing_s(const LineGrid& grid, double at_m) {
  LineMotion motion(grid, step_s);
  const GridPoint source = grid_point(grid, 0, source_m);
  const GridPoint at = grid_point(grid, 0, at_m);
  double before = 0;
  double weight = 0;
  double moment = 0;
  for (long step = 0; step < static_cast<long>(3.0 / step_s); ++step) {
    const double t = step_s * static_cast<double>(step);
    motion.advance(std::numeric_limits<double>::infinity());
    motion.press({source, burst(t, 0)});
    motion.accept();
    const double now = motion.lift(at);
    weight += now - before;
    moment += (now - before) * t;
    before = now;
  }
  return moment / weight;
}

}  // namespace

Agreement waves() {
  Agreement agreement;
  agreement.title = "Waves: speed and reflection";
  agreement.statement =
      "A burst on a contact wire of 20 kN and 1.35 kg/m: its speed; the share of its amplitude "
      "that is "
      "thrown back by a point mass, and by a taut rigid dropper to a messenger wire of 16 kN and "
      "1.07 kg/m. The dropper's formula is the share thrown back on the contact wire, for a "
      "dropper "
      "between two wires that both go on both ways.";
  agreement.source =
      "closed forms; the dropper's: Kiessling, Puschmann, Schmieder, Contact Lines for Electric "
      "Railways (from memory)";
  const LineGrid free = bare_wires(contact_wire(), messenger_wire(), length_m, step_s);
  const double c = wave_speed(contact_wire());
  const double measured = 200 / (passing_s(free, 450) - passing_s(free, 250));
  agreement.rows.push_back(figure("wave speed", "km/h", 3.6 * measured, 3.6 * c, 1e-3 * 3.6 * c));
  const double z = std::sqrt(1.35 * 20000);
  for (const double mass_kg : {0.5, 2.0}) {
    LineGrid grid = free;
    const int node = static_cast<int>(std::lround(obstacle_m / grid.wires[0].spacing_m));
    grid.masses.push_back({0, node, mass_kg});
    for (const double frequency_hz : {10.0, 25.0, 50.0}) {
      const double reactance = 2 * std::numbers::pi * frequency_hz * mass_kg;
      const double theirs = reactance / std::hypot(2 * z, reactance);
      agreement.rows.push_back(
          figure(fmt::format("thrown back by {:g} kg at {:g} Hz", mass_kg, frequency_hz), "1",
                 reflected_share(grid, frequency_hz), theirs, 0.01));
    }
  }
  LineGrid joined = free;
  GridSpring dropper;
  dropper.kind = SpringKind::dropper;
  dropper.at_m = obstacle_m;
  dropper.lower = grid_point(joined, 0, obstacle_m);
  dropper.upper = grid_point(joined, 1, obstacle_m);
  dropper.compliance_m_per_n =
      1e-9 + missing_compliance(missing_lifts(joined.wires[0]), dropper.lower.share) +
      missing_compliance(missing_lifts(joined.wires[1]), dropper.upper.share);
  dropper.static_force_n = std::numeric_limits<double>::infinity();
  joined.springs.push_back(dropper);
  const double above = std::sqrt(1.07 * 16000);
  for (const double frequency_hz : {10.0, 25.0, 50.0}) {
    agreement.rows.push_back(
        figure(fmt::format("thrown back by a dropper at {:g} Hz", frequency_hz), "1",
               reflected_share(joined, frequency_hz), above / (above + z), 0.01));
  }
  return agreement;
}

}  // namespace panup::validation
