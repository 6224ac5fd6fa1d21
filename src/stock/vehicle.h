#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stock/pantograph.h"
#include "stock/running_resistance.h"

namespace panup {

enum class VehicleKind : std::uint8_t { locomotive, electric_unit, wagon_group };

/// "locomotive", "electric unit", "wagon group".
std::string_view name_of(VehicleKind kind);

enum class Cab : std::uint8_t { cab1 = 1, cab2 = 2 };

constexpr Cab other(Cab cab) { return cab == Cab::cab1 ? Cab::cab2 : Cab::cab1; }

/// A pantograph in its place on a roof.
struct RoofPantograph {
  int number = 0;          ///< 1 is the one nearest cab 1
  double from_cab1_m = 0;  ///< collector head to the cab 1 end of the vehicle
  std::shared_ptr<const PantographType> type;
  /// Single-arm: the end the knuckle points to. Diamond: no meaning.
  Cab knuckle_towards = Cab::cab1;
  /// The half of the roof it stands on; follows from the distance, and is stated in the file only
  /// for one exactly in the middle.
  Cab nearer_cab = Cab::cab1;
};

/// What a vehicle takes from a system. Values that are not stated: the rule book's.
struct PowerOnSupply {
  EnergySupply supply{};
  double power_kw = 0;                       ///< greatest traction power, at the wheels
  std::optional<double> auxiliary_kw;        ///< auxiliaries and train heating, at the wire
  std::optional<double> power_factor;        ///< AC only
  std::optional<double> efficiency;          ///< from the wire to the wheels
  std::optional<double> greatest_current_a;  ///< that its control lets it draw; none: as it asks
};

/// A type of vehicle: a locomotive or an electric unit with its roof, or a group of wagons.
struct VehicleType {
  std::string id;
  std::string name;
  VehicleKind kind{};
  double length_m = 0;
  double highest_speed_kmh = 0;
  bool roof_line = false;                ///< a roof line joins all its pantographs
  bool roof_line_can_be_opened = false;  ///< from the cab
  /// Whether it limits current or power by itself; not stated: not known.
  std::optional<bool> current_limitation = {};
  /// Whether a high-voltage line can join it to the next vehicle; not stated: it may.
  std::optional<bool> high_voltage_coupler;
  std::vector<PowerOnSupply> power;         ///< empty for wagon groups
  std::vector<EnergySupply> systems = {};   ///< further ones that it is built for, power not stated
  std::vector<RoofPantograph> pantographs;  ///< by number, so by distance from cab 1
  RunningData running = {};
  Provenance provenance = {};
  SourcePlace place;
};

/// Whether the vehicle itself is built for the system, whatever its pantographs are for: it states
/// power on it, or names it among its systems. One that states nothing is not known to be for any.
bool is_for(const VehicleType& type, EnergySupply supply);

}  // namespace panup
