#pragma once

#include <initializer_list>
#include <limits>
#include <string>
#include <vector>

#include "judging/facts/separation.h"

namespace panup {

/// Zones for tests in a line: the first has no beginning, the last no end.
class Row {
 public:
  Row& live(const std::string& phase, double from_m, double to_m) {
    return add({.kind = ZoneKind::live,
                .from_m = from_m,
                .to_m = to_m,
                .phase = phase,
                .supply = std::nullopt,
                .place = {}});
  }
  Row& live(EnergySupply supply, double from_m, double to_m) {
    return add({.kind = ZoneKind::live,
                .from_m = from_m,
                .to_m = to_m,
                .phase = {},
                .supply = supply,
                .place = {}});
  }
  template <typename Identity>
  Row& before(const Identity& identity, double to_m) {
    return live(identity, -std::numeric_limits<double>::infinity(), to_m);
  }
  template <typename Identity>
  Row& behind(const Identity& identity, double from_m) {
    return live(identity, from_m, std::numeric_limits<double>::infinity());
  }
  Row& neutral(double from_m, double to_m) { return dead(ZoneKind::neutral, from_m, to_m); }
  Row& earthed(double from_m, double to_m) { return dead(ZoneKind::earthed, from_m, to_m); }
  Row& insulator(double from_m, double to_m) { return dead(ZoneKind::insulator, from_m, to_m); }

  std::vector<SeparationZone> zones;

 private:
  Row& add(SeparationZone zone) {
    zones.push_back(std::move(zone));
    return *this;
  }
  Row& dead(ZoneKind kind, double from_m, double to_m) {
    return add({.kind = kind,
                .from_m = from_m,
                .to_m = to_m,
                .phase = {},
                .supply = std::nullopt,
                .place = {}});
  }
};

/// Raised pantographs of as many vehicles, so far behind the front, each with strips of one extent.
inline RaisedCollectors heads(const std::vector<double>& behind_front_m, double strip_extent_m,
                              std::vector<EnergySupply> fit_for = {all_energy_supplies.begin(),
                                                                   all_energy_supplies.end()}) {
  RaisedCollectors raised;
  for (const double behind : behind_front_m) {
    raised.collectors.push_back(
        {.ref = {.vehicle = static_cast<int>(raised.collectors.size()) + 1, .pantograph = 1},
         .behind_front_m = behind,
         .strip_extent_m = strip_extent_m,
         .fit_for = fit_for});
  }
  return raised;
}

/// The same with a conductor of the train that joins those named.
inline RaisedCollectors joined(RaisedCollectors raised, std::vector<std::size_t> which,
                               bool can_be_opened = false,
                               const std::string& name = "the roof line") {
  raised.joins.push_back(
      {.name = name, .collectors = std::move(which), .can_be_opened = can_be_opened});
  return raised;
}

}  // namespace panup
