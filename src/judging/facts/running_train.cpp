#include "judging/facts/running_train.h"

#include <algorithm>

namespace panup {

namespace {

/// Indices follow vehicle and pantograph number, so that a set means the same in both directions.
std::vector<PlacedPantograph> by_number(const Layout& layout) {
  std::vector<PlacedPantograph> pantographs = layout.pantographs;
  std::ranges::sort(pantographs, {}, &PlacedPantograph::ref);
  return pantographs;
}

/// Of the vehicle, the pantographs of these numbers.
PantographSet numbered(const RunningTrain& train, const Vehicle& vehicle,
                       const std::vector<int>& numbers) {
  PantographSet set;
  for (const int number : numbers) {
    if (const auto p = index_of(train, {vehicle.number, number})) {
      set.insert(*p);
    }
  }
  return set;
}

RunningVehicle running_vehicle(const Vehicle& vehicle, std::size_t item,
                               const std::vector<PlacedPantograph>& pantographs,
                               const Words& words) {
  RunningVehicle running{.number = vehicle.number,
                         .kind = vehicle.type->kind,
                         .name = vehicle.type->kind == VehicleKind::electric_unit
                                     ? words.say("unit {}", vehicle.number)
                                     : words.say("locomotive {}", vehicle.number),
                         .dead = vehicle.dead_in_tow,
                         .item = item,
                         .all = {},
                         .rear_half = {},
                         .vehicle = &vehicle};
  for (std::size_t p = 0; p < pantographs.size(); ++p) {
    if (pantographs[p].ref.vehicle != vehicle.number) {
      continue;
    }
    running.all.insert(p);
    if (pantographs[p].half == RoofHalf::rear) {
      running.rear_half.insert(p);
    }
  }
  return running;
}

}  // namespace

RunningTrain set_running(const Train& train, bool reversed, const Words& words) {
  RunningTrain running{.train = &train,
                       .layout = lay_out(train, reversed),
                       .pantographs = {},
                       .front_first = {},
                       .vehicles = {},
                       .defective = {},
                       .kept_down = {},
                       .kept_up = {},
                       .words = words};
  running.pantographs = by_number(running.layout);
  for (const PlacedPantograph& placed : running.layout.pantographs) {
    running.front_first.push_back(*index_of(running, placed.ref));
  }
  for (std::size_t p = 0; p < running.pantographs.size(); ++p) {
    if (running.pantographs[p].defective) {
      running.defective.insert(p);
    }
  }
  for (std::size_t item = 0; item < running.layout.items.size(); ++item) {
    const ConsistItem& consist_item = train.consist[running.layout.items[item].consist_index];
    if (const auto* const vehicle = std::get_if<Vehicle>(&consist_item)) {
      running.vehicles.push_back(running_vehicle(*vehicle, item, running.pantographs, words));
      running.kept_down |= numbered(running, *vehicle, vehicle->kept_down);
      running.kept_up |= numbered(running, *vehicle, vehicle->kept_up);
    }
  }
  return running;
}

std::optional<std::size_t> index_of(const RunningTrain& train, PantographRef ref) {
  const auto found = std::ranges::lower_bound(train.pantographs, ref, {}, &PlacedPantograph::ref);
  if (found == train.pantographs.end() || found->ref != ref) {
    return std::nullopt;
  }
  return static_cast<std::size_t>(found - train.pantographs.begin());
}

std::vector<PantographRef> refs_of(const RunningTrain& train, PantographSet set) {
  std::vector<PantographRef> refs;
  for (const std::size_t p : train.front_first) {
    if (set.contains(p)) {
      refs.push_back(train.pantographs[p].ref);
    }
  }
  return refs;
}

PantographSet ordered_up(const RunningTrain& train, PantographSet fit, PantographSet defective) {
  PantographSet ordered = (train.kept_up & fit) - defective;
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (vehicle.dead) {
      ordered -= vehicle.all;
    }
  }
  return ordered;
}

PantographSet working_in(const RunningTrain& train, PantographSet raised) {
  PantographSet working;
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (!vehicle.dead && raised.intersects(vehicle.all)) {
      working |= vehicle.all;
    }
  }
  return working;
}

PantographSet set_of(const RunningTrain& train, const std::vector<PantographRef>& refs) {
  PantographSet set;
  for (const PantographRef ref : refs) {
    if (const auto p = index_of(train, ref)) {
      set.insert(*p);
    }
  }
  return set;
}

std::string list_of(const RunningTrain& train, PantographSet set) {
  std::vector<std::string> names;
  for (const PantographRef ref : refs_of(train, set)) {
    names.push_back(to_string(ref));
  }
  return names.empty() ? train.words.say("none") : train.words.listed(names);
}

bool wagons_lead(const RunningTrain& train) {
  if (train.layout.items.empty()) {
    return false;
  }
  const ConsistItem& first = train.train->consist[train.layout.items.front().consist_index];
  const auto* const load = std::get_if<LoadGroup>(&first);
  return load != nullptr && !load->control_car;
}

std::vector<VehicleRole> assign_roles(const RunningTrain& train, const std::vector<bool>& working,
                                      const LoadProtection& protection) {
  const std::vector<PlacedItem>& items = train.layout.items;
  const auto load_at = [&](std::size_t item) {
    return std::get_if<LoadGroup>(&train.train->consist[items[item].consist_index]);
  };
  std::vector<VehicleRole> roles(train.vehicles.size());
  std::optional<std::size_t> last_load;
  for (std::size_t item = 0; item < items.size(); ++item) {
    if (load_at(item) != nullptr) {
      last_load = item;
    }
  }
  bool one_ahead_of_last_load = false;
  for (std::size_t v = 0; v < roles.size(); ++v) {
    roles[v].working = working[v];
    one_ahead_of_last_load |= working[v] && last_load && train.vehicles[v].item < *last_load;
  }
  VehicleRole* previous = nullptr;
  for (std::size_t v = 0; v < roles.size(); ++v) {
    VehicleRole& role = roles[v];
    if (!role.working) {
      continue;
    }
    role.banking = one_ahead_of_last_load && train.vehicles[v].item > *last_load;
    role.first_of_group = previous == nullptr || previous->banking != role.banking;
    role.last_of_group = true;
    if (!role.first_of_group) {
      previous->last_of_group = false;
    }
    previous = &role;
  }
  for (std::size_t item = 0; item < items.size(); ++item) {
    const LoadGroup* const load = load_at(item);
    if (load == nullptr || !(load->nature == LoadNature::dangerous   ? protection.dangerous
                             : load->nature == LoadNature::sensitive ? protection.sensitive
                                                                     : false)) {
      continue;
    }
    for (std::size_t v = roles.size(); v-- > 0;) {
      if (!roles[v].working || train.vehicles[v].item > item) {
        continue;
      }
      const double behind_m = items[item].front_m - items[train.vehicles[v].item].rear_m;
      if (!protection.reach_m || behind_m <= *protection.reach_m) {
        roles[v].protects.push_back(item);
      }
      break;
    }
  }
  return roles;
}

}  // namespace panup
