#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.h"

namespace panup {

/// Neighbouring sections of a plan that look the same to the driver: same configuration, speed and
/// answer, same system, ice and direction.
struct Stretch {
  double from_km = 0;
  double to_km = 0;
  PlannedSection first;                    ///< stands for all of them
  std::optional<EnergySupply> leaves_for;  ///< the system at its end, where that is another one
  std::string name;                        ///< of the route section, or from the first to the last
  std::string reasons;                     ///< of the speed; several where they differ
};

std::vector<Stretch> stretches_of(const Plan& plan);

/// The speed to show beside a stretch. Where a lower order still holds at its beginning, because
/// the train is not yet wholly out of what asks for it, the stretch's own speed is shown with the
/// chainage from which it is ordered; where the lower order holds to its end, that one is shown.
struct ShownSpeed {
  double speed_kmh = 0;
  std::optional<double> from_km;              ///< not before
  std::optional<double> stretch_permits_kmh;  ///< more than shown
};

ShownSpeed shown_speed(const std::vector<Instruction>& instructions, const Stretch& stretch);

}  // namespace panup
