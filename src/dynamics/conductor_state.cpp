#include "dynamics/conductor_state.h"

#include <algorithm>
#include <cmath>

namespace panup {

std::optional<double> tension_after(const Wire& wire, const ConductorState& before,
                                    const ConductorState& after, double span_m) {
  if (wire.axial_stiffness_n <= 0 || wire.thermal_expansion_per_k <= 0) {
    return std::nullopt;
  }
  const double t0 = wire.tension_n;
  const double share = wire.axial_stiffness_n * span_m * span_m / 24;
  const double linear = share * before.load_n_per_m * before.load_n_per_m / (t0 * t0) +
                        wire.axial_stiffness_n * wire.thermal_expansion_per_k *
                            (after.temperature_c - before.temperature_c) -
                        t0;
  const double constant = share * after.load_n_per_m * after.load_n_per_m;
  // T³ + linear T² − constant falls below 0 first, if at all, and rises once: one root right of
  // where it does so. Newton's steps from above the root go down to it and never past it.
  double tension = std::max({t0, 2 * std::abs(linear), std::cbrt(2 * constant)}) + 1;
  for (int i = 0; i < 200; ++i) {
    const double value = tension * tension * (tension + linear) - constant;
    const double slope = tension * (3 * tension + 2 * linear);
    const double next = tension - value / slope;
    if (!(next < tension)) {
      break;
    }
    tension = next;
  }
  return tension;
}

double ruling_span(const ContactLine& line) {
  double cubes = 0;
  double sum = 0;
  for (const Span& span : line.spans) {
    cubes += span.length_m * span.length_m * span.length_m;
    sum += span.length_m;
  }
  return std::sqrt(cubes / sum);
}

}  // namespace panup
