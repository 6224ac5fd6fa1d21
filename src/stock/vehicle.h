#pragma once

#include <cstdint>
#include <memory>
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

struct PowerOnSupply {
  EnergySupply supply{};
  double power_kw = 0;
};

/// A type of vehicle: a locomotive or an electric unit with its roof, or a group of wagons.
struct VehicleType {
  std::string id;
  std::string name;
  VehicleKind kind{};
  double length_m = 0;
  double highest_speed_kmh = 0;
  bool roof_line = false;                   ///< a roof line joins all its pantographs
  bool roof_line_can_be_opened = false;     ///< from the cab
  std::vector<PowerOnSupply> power;         ///< empty for wagon groups
  std::vector<RoofPantograph> pantographs;  ///< by number, so by distance from cab 1
  RunningData running = {};
  SourcePlace place;
};

}  // namespace panup
