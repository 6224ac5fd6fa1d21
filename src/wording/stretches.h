#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.h"

namespace panup {

/// Neighbouring sections of a plan that look the same to the driver: same configuration, permitted
/// speed and answer, same system, ice and direction. A stretch with all down: same ordered speed,
/// answer and direction.
struct Stretch {
  double from_km = 0;
  double to_km = 0;
  PlannedSection first;                    ///< stands for all of them
  double speed_kmh = 0;                    ///< the highest that is ordered in it
  std::optional<double> speed_from_km;     ///< where that is not from its beginning
  std::optional<EnergySupply> leaves_for;  ///< the system at its end, where that is another one
  std::string name;                        ///< of the route section, or from the first to the last
  std::string reasons;                     ///< of the highest speed; several where they differ
};

std::vector<Stretch> stretches_of(const Plan& plan);

}  // namespace panup
