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
/// pressed up by static force + aerodynamic force k·v². The static force is what the head presses
/// on a wire at the height at which it is stated (EN 50206, EN 50367, from memory); the force on
/// the lowest mass follows from it (`frame_forces`).
struct PantographModel {
  std::string id;
  std::string name;
  bool invented = false;
  std::string source;                      ///< where its figures come from; may be empty
  std::vector<PantographMass> masses;      ///< collector head first
  std::optional<double> static_force_n;    ///< on every system not listed
  std::vector<StaticForce> static_forces;  ///< by energy supply system
  /// Height of the wire above the rails at which the static forces are measured; nothing: they are
  /// those at the height of the line that it runs on.
  std::optional<double> static_force_at_height_m;
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
