#include "plan/powerless.h"

#include <algorithm>
#include <limits>
#include <set>

namespace panup {

namespace {

std::vector<PassedWithoutPower> all_passed(const Route& route) {
  std::vector<PassedWithoutPower> all;
  for (const SeparationSection& separation : route.separations) {
    const SeparationExtent extent = extent_of(separation);
    all.push_back({.name = separation.name, .from_km = extent.from_km, .to_km = extent.to_km});
  }
  for (const LoweredStretch& lowered : route.lowered) {
    all.push_back({.name = lowered.name, .from_km = lowered.from_km, .to_km = lowered.to_km});
  }
  std::ranges::sort(all, {}, &PassedWithoutPower::from_km);
  return all;
}

/// The lowest speed ordered at `off_km` or from there to `on_km`.
double ordered_kmh(const std::vector<Order>& orders, double off_km, double on_km) {
  double at_off = std::numeric_limits<double>::infinity();
  double lowest = at_off;
  for (const Order& order : orders) {
    if (order.action != Action::speed || order.at_km >= on_km) {
      continue;
    }
    if (order.at_km <= off_km) {
      at_off = order.speed_kmh;
    } else {
      lowest = std::min(lowest, order.speed_kmh);
    }
  }
  return std::min(at_off, lowest);
}

/// What the train can have reached since it last stood.
double reachable_kmh(const PlanningCase& planning, double km) {
  double stand_km = planning.pieces.front().from_km;
  for (const Stop& stop : planning.request->route.stops) {
    stand_km = stop.at_km <= km ? std::max(stand_km, stop.at_km) : stand_km;
  }
  const double room_m = 1000 * std::max(0.0, km - stand_km);
  return reached_from_stand_kmh(planning.request->train, room_m);
}

/// Whether it is among what is passed between these breaker orders.
bool is_passed(const PassedWithoutPower& passed, const std::vector<WithoutPower>& without_power,
               double off_km, double on_km) {
  return std::ranges::any_of(without_power, [&](const WithoutPower& one) {
    return one.off_km < on_km && one.on_km > off_km &&
           std::ranges::any_of(one.zones, [&passed](const PowerlessZone& zone) {
             return zone.from_km <= passed.from_km && passed.to_km <= zone.to_km;
           });
  });
}

}  // namespace

std::vector<PowerlessStretch> powerless_stretches(const PlanningCase& planning,
                                                  const Orders& orders) {
  const std::vector<PassedWithoutPower> all = all_passed(planning.request->route);
  std::vector<PowerlessStretch> stretches;
  std::set<int> closed;
  double off_km = 0;
  bool ran = false;  // with power, before
  for (const Order& order : orders.all) {
    if (order.action == Action::breaker_off) {
      for (const int number : order.vehicles) {
        closed.erase(number);
      }
      off_km = order.at_km;
      continue;
    }
    if (order.action != Action::breaker_on) {
      continue;
    }
    const bool was_without = ran && closed.empty();
    closed.insert(order.vehicles.begin(), order.vehicles.end());
    ran = true;
    if (was_without) {
      PowerlessStretch stretch{
          .off_km = off_km, .on_km = order.at_km, .speed_kmh = 0, .passed = {}};
      std::ranges::copy_if(all, std::back_inserter(stretch.passed),
                           [&](const PassedWithoutPower& passed) {
                             return is_passed(passed, orders.without_power, off_km, stretch.on_km);
                           });
      if (!stretch.passed.empty() && stretch.on_km > off_km) {
        stretch.speed_kmh = std::min(ordered_kmh(orders.all, off_km, stretch.on_km),
                                     reachable_kmh(planning, off_km));
        stretches.push_back(std::move(stretch));
      }
    }
  }
  return stretches;
}

std::string names_of(const PowerlessStretch& stretch, const Words& words) {
  std::vector<std::string> names;
  for (const PassedWithoutPower& passed : stretch.passed) {
    names.push_back(passed.name);
  }
  return words.listed(names);
}

}  // namespace panup
