#include "driving/leaving_on_the_move.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/same_place.h"
#include "stock/layout.h"

namespace panup {

namespace {

/// What is up and closed where the train comes to a place, and how fast it may be there.
struct Running {
  std::set<PantographRef> up;
  std::set<int> closed;
  std::set<int> dead;
  double speed_kmh = 0;
  bool less_power = false;
};

Running running_at(const std::vector<Instruction>& orders, double km) {
  Running state;
  for (const Instruction& order : orders) {
    if (order.at_km > km - same_place_km) {
      break;
    }
    for (const PantographRef ref : order.pantographs) {
      if (order.action == Action::raise) {
        state.up.insert(ref);
      } else if (order.action == Action::lower) {
        state.up.erase(ref);
      }
    }
    for (const int vehicle : order.vehicles) {
      if (order.action == Action::breaker_on) {
        state.closed.insert(vehicle);
        state.dead.erase(vehicle);
      } else if (order.action == Action::breaker_off) {
        state.closed.erase(vehicle);
      } else if (order.action == Action::tow) {
        state.dead.insert(vehicle);
      }
    }
    if (order.action == Action::speed) {
      state.speed_kmh = order.speed_kmh;
    } else if (order.action == Action::power && order.power_percent) {
      state.less_power = *order.power_percent < 100;
    }
  }
  return state;
}

std::set<int> vehicles_of(const Train& train) {
  std::set<int> numbers;
  for (const ConsistItem& item : train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      numbers.insert(vehicle->number);
    }
  }
  return numbers;
}

/// Leaves of an order what concerns vehicles that are there; false where that is nothing.
bool keep_vehicles(const std::set<int>& there, Instruction& order) {
  const bool named = !order.pantographs.empty() || !order.vehicles.empty();
  std::erase_if(order.pantographs, [&](PantographRef ref) { return !there.contains(ref.vehicle); });
  std::erase_if(order.vehicles, [&](int number) { return !there.contains(number); });
  return !named || !order.pantographs.empty() || !order.vehicles.empty();
}

double longest_s(const Train& train, const DrivenRules& rules) {
  double longest = rules.breaker_s;
  for (const ConsistItem& item : train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      for (const auto& placed : vehicle->type->pantographs) {
        longest = std::max({longest, placed.type->raising_time_s, placed.type->lowering_time_s});
      }
    }
  }
  return longest + rules.reaction_s;
}

bool is_only_of_speed(const Instruction& order) {
  return order.action == Action::speed && order.speed_kmh > 0;
}

/// What either train is ordered to do there besides its speed; empty if nothing.
std::string under_way(const Plan& plan, double from_km, double to_km) {
  for (const Instruction& order : plan.instructions) {
    if (order.at_km >= from_km && order.at_km <= to_km && !is_only_of_speed(order)) {
      return plan.words.say("'{}' is ordered at km {:.3f}", order.what, order.at_km);
    }
  }
  return {};
}

std::string not_permitted(const Plan& plan, double from_km, double to_km) {
  for (const PlannedSection& section : plan.sections) {
    if (section.to_km > from_km && section.from_km < to_km && section.answer != Answer::permitted) {
      return plan.words.say("{} at km {:.3f}", plan.words.named(name_of(section.answer)),
                            std::max(section.from_km, from_km));
    }
  }
  return {};
}

Instruction speed_order(const Plan& plan, double km, double speed_kmh, std::string reason) {
  Instruction order;
  order.at_km = km;
  order.action = Action::speed;
  order.speed_kmh = speed_kmh;
  order.on_line = place_on_line(plan.route, km);
  order.landmark =
      order.on_line ? plan.words.say("line {} km {:.3f}", order.on_line->line, order.on_line->at_km)
                    : std::string();
  order.what = plan.words.say("{:g} km/h from here", speed_kmh);
  order.reason = std::move(reason);
  order.text = fmt::format("{}{}{}{}.", order.what, order.landmark.empty() ? "" : ", ",
                           order.landmark, order.reason.empty() ? "" : ": " + order.reason);
  return order;
}

/// Orders from the place on, no faster than `most_kmh` until `until_km`.
std::vector<Instruction> held_until(const Plan& plan, double at_km, double until_km,
                                    double most_kmh) {
  const std::string others = plan.words.say("what has left the train may still be close behind it");
  double asked_kmh = 0;
  std::string asked_because;
  for (const Instruction& order : plan.instructions) {
    if (order.at_km <= at_km - same_place_km && order.action == Action::speed) {
      asked_kmh = order.speed_kmh;
      asked_because = order.reason;
    }
  }
  double ordered_kmh = std::min(asked_kmh, most_kmh);
  std::vector<Instruction> held{
      speed_order(plan, at_km, ordered_kmh, ordered_kmh < asked_kmh ? others : asked_because)};
  bool released = false;
  const auto release = [&] {
    if (!released && asked_kmh > ordered_kmh) {
      held.push_back(
          speed_order(plan, until_km, asked_kmh,
                      plan.words.say("what has left the train has dropped back by its length")));
    }
    released = true;
  };
  for (const Instruction& order : plan.instructions) {
    if (order.at_km <= at_km - same_place_km) {
      continue;
    }
    if (order.at_km > until_km) {
      release();
    }
    if (released || order.action != Action::speed) {
      held.push_back(order);
      continue;
    }
    asked_kmh = order.speed_kmh;
    if (const double kmh = std::min(asked_kmh, most_kmh); kmh != ordered_kmh) {
      ordered_kmh = kmh;
      held.push_back(kmh == asked_kmh ? order : speed_order(plan, order.at_km, kmh, others));
    }
  }
  release();
  return held;
}

}  // namespace

std::variant<LeftOnTheMove, std::string> left_on_the_move(const LeavingPlace& place,
                                                          const DrivenRules& rules) {
  const Plan& before = place.before;
  const Plan& after = place.after;
  const double length_km = length_m(before.train) / 1000;
  const std::set<int> there = vehicles_of(after.train);
  const Running with = running_at(before.instructions, place.at_km);
  const Running without = running_at(after.instructions, place.at_km);
  LeftOnTheMove left;
  left.held_to_km = std::ceil((place.at_km + length_km) * 100) / 100;
  left.held_kmh = with.speed_kmh;
  std::string why = not_permitted(before, departure_km(before.route), place.at_km);
  if (why.empty()) {
    why = not_permitted(after, std::max(departure_km(before.route), departure_km(after.route)),
                        left.held_to_km);
  }
  const double reach_km =
      longest_s(before.train, rules) * std::max(with.speed_kmh, without.speed_kmh) / 3.6 / 1000;
  for (const Plan* const plan : {&before, &after}) {
    if (why.empty()) {
      why = under_way(*plan, place.at_km - reach_km, left.held_to_km);
    }
  }
  if (!why.empty()) {
    return why;
  }
  if (with.speed_kmh <= 0 || without.speed_kmh <= 0 ||
      left.held_to_km >= after.route.sections.back().to_km) {
    return after.words.say("the train does not run on there");
  }
  if (with.less_power || without.less_power) {
    return after.words.say("less than full power may be drawn there");
  }
  const auto goes_on = [&](int number) { return there.contains(number); };
  std::ranges::copy_if(with.up, std::back_inserter(left.up),
                       [&](PantographRef ref) { return goes_on(ref.vehicle); });
  std::ranges::copy_if(with.closed, std::back_inserter(left.closed), goes_on);
  std::vector<int> dead;
  std::ranges::copy_if(with.dead, std::back_inserter(dead), goes_on);
  if (!std::ranges::equal(left.up, without.up) ||
      !std::ranges::equal(left.closed, without.closed) || !std::ranges::equal(dead, without.dead)) {
    return after.words.say("other pantographs would be up without what leaves than with it");
  }
  if (left.closed.empty()) {
    return after.words.say("no breaker of what goes on is closed there");
  }
  std::vector<Instruction> whole;
  for (const Instruction& order : before.instructions) {
    if (order.at_km > place.at_km - same_place_km) {
      break;
    }
    left.before.push_back(order);
    if (Instruction kept = order; keep_vehicles(there, kept)) {
      whole.push_back(std::move(kept));
    }
  }
  left.after = held_until(after, place.at_km, left.held_to_km, left.held_kmh);
  whole.insert(whole.end(), left.after.begin(), left.after.end());
  Route route = after.route;
  route.departs_km = before.route.departs_km;
  const auto faults =
      drive({.train = after.train, .route = route, .orders = whole, .words = after.words}, rules);
  if (!faults.empty()) {
    return after.words.say("driven over it, at km {:.3f}: {}", faults.front().at_km,
                           faults.front().what);
  }
  return left;
}

}  // namespace panup
