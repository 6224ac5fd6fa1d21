#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/energy_supply.h"

namespace panup {

/// A lumped mass of a pantograph, and the spring and damper that carry it from the mass below;
/// those of the lowest stand on the vehicle's roof.
struct PantographMass {
  double mass_kg = 0;
  double stiffness_n_per_m = 0;
  double damping_ns_per_m = 0;
};

/// Static force on one energy supply system.
struct StaticForce {
  EnergySupply supply{};
  double force_n = 0;
};

/// The mechanical model of a pantograph type, about its working height: one to four lumped masses,
/// pressed up by static force + aerodynamic force k·v² on the lowest. Springs are slack-free and
/// measured from the height at which the static force holds.
struct PantographModel {
  std::string id;
  std::string name;
  bool invented = false;
  std::string source;                      ///< where its figures come from; may be empty
  std::vector<PantographMass> masses;      ///< collector head first
  std::optional<double> static_force_n;    ///< on every system not listed
  std::vector<StaticForce> static_forces;  ///< by energy supply system
  double aerodynamic_knuckle_leading_n_per_kmh2 = 0;
  double aerodynamic_knuckle_trailing_n_per_kmh2 = 0;
  double contact_stiffness_n_per_m = 50000;  ///< between contact strip and wire
  SourcePlace place;
};

enum class Knuckle : std::uint8_t { leading, trailing };

/// Static force on a system, or of every system where none is named; nothing where the model does
/// not say.
std::optional<double> static_force_of(const PantographModel& model,
                                      std::optional<EnergySupply> supply);

/// Aerodynamic force at a speed.
double aerodynamic_force(const PantographModel& model, Knuckle knuckle, double speed_kmh);

}  // namespace panup
