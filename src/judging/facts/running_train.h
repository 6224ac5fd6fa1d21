#pragma once
/// The room `judging/facts`: what is so of a train under its wire, whatever any rule says of it.
/// The train as it runs, here; which zones of a separation section its pantographs join, where it
/// would stand with one on them, where the wind puts the wire, how it runs without power. Geometry
/// and mechanics in closed form; nothing here knows of rules. Who judges by it is the room
/// `judging`.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "judging/facts/pantograph_set.h"
#include "stock/layout.h"
#include "stock/train.h"

namespace panup {

/// A vehicle of the train as it runs.
struct RunningVehicle {
  int number = 0;
  VehicleKind kind{};
  std::string name;  ///< "locomotive 2", "unit 1", as the language says it
  bool dead = false;
  std::size_t item = 0;  ///< index into `Layout::items`, so by direction of travel
  PantographSet all;
  PantographSet rear_half;
  const Vehicle* vehicle = nullptr;
};

/// The train in a direction of travel, prepared for judging: sets of pantographs beside the layout.
/// Points into the train, which must outlive it.
struct RunningTrain {
  const Train* train = nullptr;
  Layout layout;
  std::vector<PlacedPantograph> pantographs;  ///< by vehicle and pantograph number
  std::vector<std::size_t> front_first;       ///< indices of `pantographs`
  std::vector<RunningVehicle> vehicles;       ///< front first
  PantographSet defective;
  PantographSet kept_down;  ///< by the operator's order
  PantographSet kept_up;    ///< likewise, wherever they may be up
  Words words = {};         ///< in which it is spoken of
};

RunningTrain set_running(const Train& train, bool reversed, const Words& words = {});

/// The index of a pantograph in `RunningTrain::pantographs`; nothing if the train has no such one.
std::optional<std::size_t> index_of(const RunningTrain& train, PantographRef ref);

/// The pantographs of a set, front first.
std::vector<PantographRef> refs_of(const RunningTrain& train, PantographSet set);

/// What the train file orders up, of those that are fit: without what is defective, and without
/// vehicles dead in tow.
PantographSet ordered_up(const RunningTrain& train, PantographSet fit, PantographSet defective);

/// All pantographs of the vehicles that work when these are up: one tells such a choice of vehicles
/// from another.
PantographSet working_in(const RunningTrain& train, PantographSet raised);

/// The set of the pantographs named; those that the train does not have are left out.
PantographSet set_of(const RunningTrain& train, const std::vector<PantographRef>& refs);

/// "1.2 and 2.1", front first; "none" for the empty set.
std::string list_of(const RunningTrain& train, PantographSet set);

/// "locomotive 2", "unit 1".
inline const std::string& name_of(const RunningVehicle& vehicle) { return vehicle.name; }

/// Whether the foremost item is a load with no control car, so that no cab is ahead.
bool wagons_lead(const RunningTrain& train);

/// What a working vehicle is within its group. Vehicles behind the last load group, with a working
/// one ahead of that load, bank: they are a group of their own.
struct VehicleRole {
  bool working = false;
  bool first_of_group = false;
  bool last_of_group = false;
  bool banking = false;
  /// Load groups (indices into `Layout::items`) that this vehicle is the nearest working one ahead
  /// of, and that are to be protected.
  std::vector<std::size_t> protects;
};

/// Which loads are protected, and how far behind a vehicle.
struct LoadProtection {
  bool dangerous = false;
  bool sensitive = false;
  std::optional<double> reach_m;
};

/// The roles of all vehicles (as in `RunningTrain::vehicles`) when those marked in `working` work.
std::vector<VehicleRole> assign_roles(const RunningTrain& train, const std::vector<bool>& working,
                                      const LoadProtection& protection);

}  // namespace panup
