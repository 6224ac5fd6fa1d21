#include "checks/train_collectors.h"

#include <fmt/format.h>

#include <algorithm>

#include "rules/judge.h"

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

std::string line_name(const HighVoltageLine& line) {
  return line.vehicles.size() == 2 ? fmt::format("the high-voltage line between vehicles {} and {}",
                                                 line.vehicles.front(), line.vehicles.back())
                                   : fmt::format("the high-voltage line through vehicles {} to {}",
                                                 line.vehicles.front(), line.vehicles.back());
}

}  // namespace

RaisedCollectors raised_collectors(const RunningTrain& train, PantographSet raised,
                                   double strips_not_stated_m) {
  RaisedCollectors made;
  for (const int bit : train.front_first) {
    if ((raised >> bit & 1U) == 0) {
      continue;
    }
    const PlacedPantograph& placed = train.pantographs[static_cast<std::size_t>(bit)];
    const auto& stated_mm = placed.type->strip_length_along_track_mm;
    Collector collector{.ref = placed.ref,
                        .behind_front_m = placed.from_front_m,
                        .strip_extent_m = stated_mm ? *stated_mm / 1000 : strips_not_stated_m,
                        .fit_for = {}};
    for (const PantographSupply& supply : placed.type->supplies) {
      collector.fit_for.push_back(supply.supply);
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
      add("the roof line of " + name_of(vehicle), {vehicle.number}, type.roof_line_can_be_opened);
    }
  }
  for (const HighVoltageLine& line : train.train->high_voltage_lines) {
    add(line_name(line), line.vehicles, line.can_be_opened);
  }
  return made;
}

double strips_not_stated_m(const RuleBook& rules) {
  const auto rule = std::ranges::find(rules.rules, RuleKind::zones_joined, &Rule::kind);
  return rule == rules.rules.end() ? 0 : number_of(*rule, "strips_not_stated_m").value_or(0);
}

}  // namespace panup
