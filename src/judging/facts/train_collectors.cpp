#include "judging/facts/train_collectors.h"

#include <algorithm>

namespace panup {

namespace {

std::vector<std::size_t> collectors_of(const RaisedCollectors& raised,
                                       const std::vector<int>& vehicles) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < raised.collectors.size(); ++i) {
    if (std::ranges::find(vehicles, raised.collectors[i].ref.vehicle) != vehicles.end()) {
      found.push_back(i);
    }
  }
  return found;
}

/// Numbers rise and follow each other.
std::string line_name(const std::vector<int>& vehicles, const Words& words) {
  return vehicles.size() == 2 ? words.say("the high-voltage line between vehicles {} and {}",
                                          vehicles.front(), vehicles.back())
                              : words.say("the high-voltage line through vehicles {} to {}",
                                          vehicles.front(), vehicles.back());
}

std::string possible_line_name(const std::vector<int>& vehicles, const Words& words) {
  return vehicles.size() == 2 ? words.say("a high-voltage line between vehicles {} and {}",
                                          vehicles.front(), vehicles.back())
                              : words.say("a high-voltage line through vehicles {} to {}",
                                          vehicles.front(), vehicles.back());
}

/// Whether a line that the train states joins all of them.
bool are_joined(const Train& train, const std::vector<int>& vehicles) {
  return std::ranges::any_of(train.high_voltage_lines, [&](const HighVoltageLine& line) {
    return std::ranges::includes(line.vehicles, vehicles);
  });
}

/// The numbers of vehicles that are coupled to each other and may all be joined.
std::vector<std::vector<int>> possible_lines(const Train& train) {
  std::vector<std::vector<int>> lines;
  std::vector<int> coupled;
  const auto end_line = [&] {
    if (coupled.size() > 1 && !are_joined(train, coupled)) {
      lines.push_back(coupled);
    }
    coupled.clear();
  };
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->type->high_voltage_coupler.value_or(true)) {
      coupled.push_back(vehicle->number);
    } else {
      end_line();
    }
  }
  end_line();
  return lines;
}

void add_possible_lines(const RunningTrain& train, RaisedCollectors& raised) {
  for (const std::vector<int>& vehicles : possible_lines(*train.train)) {
    std::vector<std::size_t> joined = collectors_of(raised, vehicles);
    const bool of_several = std::ranges::any_of(joined, [&](std::size_t i) {
      return raised.collectors[i].ref.vehicle != raised.collectors[joined.front()].ref.vehicle;
    });
    if (of_several) {
      raised.joins.push_back({.name = possible_line_name(vehicles, train.words),
                              .collectors = std::move(joined),
                              .can_be_opened = false,
                              .only_possible = true});
    }
  }
}

const VehicleType& type_of_carrier(const RunningTrain& train, std::size_t pantograph) {
  return *std::ranges::find_if(train.vehicles, [&](const RunningVehicle& vehicle) {
            return vehicle.all.contains(pantograph);
          })->vehicle->type;
}

}  // namespace

RaisedCollectors raised_collectors(const RunningTrain& train, PantographSet raised,
                                   double strips_not_stated_m) {
  RaisedCollectors made;
  for (const std::size_t p : train.front_first) {
    if (!raised.contains(p)) {
      continue;
    }
    const PlacedPantograph& placed = train.pantographs[p];
    const auto& stated_mm = placed.type->strip_length_along_track_mm;
    Collector collector{.ref = placed.ref,
                        .behind_front_m = placed.from_front_m,
                        .strip_extent_m = stated_mm ? *stated_mm / 1000 : strips_not_stated_m,
                        .fit_for = {}};
    for (const PantographSupply& supply : placed.type->supplies) {
      if (is_for(type_of_carrier(train, p), supply.supply)) {
        collector.fit_for.push_back(supply.supply);
      }
    }
    made.collectors.push_back(std::move(collector));
  }
  const auto add = [&made](std::string name, const std::vector<int>& vehicles, bool can_be_opened) {
    std::vector<std::size_t> joined = collectors_of(made, vehicles);
    if (joined.size() > 1) {
      made.joins.push_back({.name = std::move(name),
                            .collectors = std::move(joined),
                            .can_be_opened = can_be_opened});
    }
  };
  for (const RunningVehicle& vehicle : train.vehicles) {
    const VehicleType& type = *vehicle.vehicle->type;
    if (type.roof_line) {
      add(train.words.say("the roof line of {}", name_of(vehicle)), {vehicle.number},
          type.roof_line_can_be_opened);
    }
  }
  for (const HighVoltageLine& line : train.train->high_voltage_lines) {
    add(line_name(line.vehicles, train.words), line.vehicles, line.can_be_opened);
  }
  add_possible_lines(train, made);
  return made;
}

}  // namespace panup
