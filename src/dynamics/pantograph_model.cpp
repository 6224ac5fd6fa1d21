#include "dynamics/pantograph_model.h"

#include <algorithm>

namespace panup {

std::optional<double> static_force_of(const PantographModel& model,
                                      std::optional<EnergySupply> supply) {
  if (supply) {
    const auto found = std::ranges::find(model.static_forces, *supply, &StaticForce::supply);
    if (found != model.static_forces.end()) {
      return found->force_n;
    }
  }
  return model.static_force_n;
}

double aerodynamic_force(const PantographModel& model, Knuckle knuckle, double speed_kmh) {
  return (knuckle == Knuckle::leading ? model.aerodynamic_knuckle_leading_n_per_kmh2
                                      : model.aerodynamic_knuckle_trailing_n_per_kmh2) *
         speed_kmh * speed_kmh;
}

}  // namespace panup
