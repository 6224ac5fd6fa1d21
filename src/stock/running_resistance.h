#pragma once

#include <optional>

namespace panup {

/// Running resistance on level straight track by Davis coefficients: R(v) = A + B v + C v², v in
/// km/h. None of them is negative.
struct RunningResistance {
  double a_n = 0;
  double b_n_per_kmh = 0;
  double c_n_per_kmh2 = 0;
};

/// What a vehicle or load runs on by: none of it is assumed where it is not stated.
struct RunningData {
  std::optional<double> mass_t;
  std::optional<RunningResistance> resistance;
};

}  // namespace panup
