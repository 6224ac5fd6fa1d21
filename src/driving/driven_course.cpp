#include "driving/driven_course.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

#include "base/same_place.h"

namespace panup {

namespace {

/// The train at departure: as it stands behind all reversals up to there.
DrivenLeg leg_at_departure(const DrivenOrders& driven) {
  const double departs_km = departure_km(driven.route);
  bool reversed = false;
  double start_km = driven.route.sections.front().from_km;
  bool turned = false;
  for (const Stop& stop : driven.route.stops) {
    if (stop.reversal && stop.at_km > driven.route.sections.front().from_km &&
        stop.at_km <= departs_km) {
      turned = true;
      reversed = !reversed;
      start_km = stop.at_km;
    }
  }
  return {{departs_km, departs_km}, lay_out(driven.train, reversed), turned, start_km};
}

/// The driver on the way: what is up and closed, since where.
class ObedientDriver {
 public:
  ObedientDriver(const DrivenOrders& driven, const DrivenRules& rules)
      : driven_(driven), rules_(rules) {
    for (const Instruction& order : driven.orders) {
      if (order.action == Action::speed) {
        course_.speeds.push_back({order.at_km, order.speed_kmh});
      }
    }
    course_.end_km = driven.route.sections.back().to_km;
    stands_km_.push_back(departure_km(driven.route));
    for (const Stop& stop : driven.route.stops) {
      if (stop.at_km > stands_km_.back()) {
        stands_km_.push_back(stop.at_km);
      }
    }
    if (course_.end_km > stands_km_.back()) {
      stands_km_.push_back(course_.end_km);  // where it arrives
    }
    course_.legs.push_back(leg_at_departure(driven));
  }

  DrivenCourse drive() {
    for (const Instruction& order : driven_.orders) {
      leave_stands_before(order.at_km);
      obey(order);
      if (order.action == Action::speed && order.speed_kmh <= 0) {
        course_.end_km = order.at_km;
        break;
      }
    }
    leave_stands_before(course_.end_km);
    end_leg(course_.end_km);
    for (const auto& [vehicle, since] : closed_since_) {
      course_.closed.push_back({vehicle, {since, course_.end_km}});
    }
    return std::move(course_);
  }

 private:
  /// No train starts with no breaker closed.
  void leave_stands_before(double km) {
    for (; next_stand_ < stands_km_.size() && stands_km_[next_stand_] < km - same_place_km;
         ++next_stand_) {
      if (closed_since_.empty()) {
        const double stand_km = stands_km_[next_stand_];
        course_.faults.push_back(
            {stand_km, driven_.words.say(
                           "the train is to start at km {:.3f} with no breaker closed", stand_km)});
      }
    }
  }

  void begin_leg(double at_km) {
    const bool reversed = !course_.legs.back().layout.reversed;
    course_.legs.push_back({{at_km, at_km}, lay_out(driven_.train, reversed), true, at_km});
  }

  void end_leg(double at_km) {
    course_.legs.back().front.to_km = at_km;
    for (const auto& [ref, since] : up_since_) {
      touched(ref, {since, at_km});
    }
  }

  void touched(PantographRef ref, FrontStretch front) {
    const auto& pantographs = course_.legs.back().layout.pantographs;
    const auto found = std::ranges::find(pantographs, ref, &PlacedPantograph::ref);
    course_.touching.push_back(
        {course_.legs.size() - 1, static_cast<std::size_t>(found - pantographs.begin()), front});
  }

  const PlacedPantograph* pantograph(PantographRef ref) const {
    const auto& pantographs = course_.legs.back().layout.pantographs;
    const auto found = std::ranges::find(pantographs, ref, &PlacedPantograph::ref);
    return found == pantographs.end() ? nullptr : &*found;
  }

  /// The first stand that is not before a place; infinity if there is none.
  double stand_from_km(double km) const {
    const auto stand = std::ranges::lower_bound(stands_km_, km - same_place_km);
    return stand == stands_km_.end() ? std::numeric_limits<double>::infinity() : *stand;
  }

  /// Where what takes so long is done, begun here; at a stand it is waited for.
  double done_at(double km, double seconds) const {
    constexpr double step_s = 0.01;
    const double stand_km = stand_from_km(km);
    while (seconds > 0 && km < stand_km - same_place_km) {
      const auto next =
          std::ranges::upper_bound(course_.speeds, km + same_place_km, {}, &OrderedSpeed::from_km);
      const double ordered_kmh = next == course_.speeds.begin() ? 0 : std::prev(next)->speed_kmh;
      const double until_km =
          next == course_.speeds.end() ? std::numeric_limits<double>::infinity() : next->from_km;
      const double reached_kmh = reached_since_stand_kmh(km);
      if (ordered_kmh <= 0) {
        return km;
      }
      // While the train still gains speed, in short steps; then as far as the order holds.
      const double speed_kmh = std::min(ordered_kmh, reached_kmh);
      const double for_s = reached_kmh < ordered_kmh
                               ? std::min(step_s, seconds)
                               : std::min(seconds, (until_km - km) / speed_kmh * 3600);
      km += speed_kmh * for_s / 3600;
      seconds -= std::max(for_s, 1e-9);
    }
    return std::min(km, stand_km);
  }

  double reached_since_stand_kmh(double km) const {
    const auto after = std::ranges::upper_bound(stands_km_, km);
    const double run_m = 1000 * (km - *std::prev(after));
    return 3.6 * std::sqrt(2 * driven_.train.acceleration_ms2 * run_m);
  }

  void cannot(const Instruction& order, const std::string& why) {
    course_.faults.push_back({order.at_km, driven_.words.say("'{}': {}", order.what, why)});
  }

  void obey(const Instruction& order) {
    switch (order.action) {
      case Action::raise:
        return raise(order);
      case Action::lower:
        return lower(order);
      case Action::breaker_on:
        return close(order);
      case Action::breaker_off:
        return open(order);
      case Action::reverse:
        end_leg(order.at_km);
        begin_leg(order.at_km);
        for (auto& [ref, since] : up_since_) {
          since = order.at_km;
        }
        return;
      case Action::speed:
      case Action::power:
      case Action::stop_short:
      case Action::tow:
      case Action::shunt:
        return;
    }
  }

  void raise(const Instruction& order) {
    for (const PantographRef ref : order.pantographs) {
      const PlacedPantograph* const placed = pantograph(ref);
      if (placed == nullptr) {
        cannot(order, driven_.words.say("the train has no pantograph {}", to_string(ref)));
      } else if (placed->defective || driven_.failed == ref) {
        cannot(order, driven_.words.say("{} is defective", to_string(ref)));
      } else if (!up_since_.try_emplace(ref, order.at_km).second) {
        cannot(order, driven_.words.say("{} is up already", to_string(ref)));
      }
    }
  }

  void lower(const Instruction& order) {
    for (const PantographRef ref : order.pantographs) {
      if (const auto open = opens_km_.find(ref.vehicle);
          closed_since_.contains(ref.vehicle) ||
          (open != opens_km_.end() && open->second > order.at_km + same_place_km)) {
        cannot(order, driven_.words.say("the breaker of vehicle {} is not open yet", ref.vehicle));
      }
      const auto up = up_since_.find(ref);
      if (up == up_since_.end()) {
        cannot(order, driven_.words.say("{} is down already", to_string(ref)));
        continue;
      }
      const double time_s = rules_.reaction_s + pantograph(ref)->type->lowering_time_s;
      touched(ref, {up->second, done_at(order.at_km, time_s)});
      up_since_.erase(up);
    }
  }

  void close(const Instruction& order) {
    for (const int vehicle : order.vehicles) {
      if (!closed_since_.try_emplace(vehicle, order.at_km).second) {
        cannot(order, driven_.words.say("the breaker of vehicle {} is on already", vehicle));
      }
      bool any = false;
      for (const auto& [ref, since_km] : up_since_) {
        if (ref.vehicle != vehicle) {
          continue;
        }
        any = true;
        const double time_s = rules_.reaction_s + pantograph(ref)->type->raising_time_s;
        if (done_at(since_km, time_s) > order.at_km + same_place_km) {
          cannot(order, driven_.words.say("{} is not up yet", to_string(ref)));
        }
      }
      if (!any) {
        cannot(order, driven_.words.say("vehicle {} has nothing up", vehicle));
      }
    }
  }

  void open(const Instruction& order) {
    const double open_km = done_at(order.at_km, rules_.reaction_s + rules_.breaker_s);
    for (const int vehicle : order.vehicles) {
      if (const auto closed = closed_since_.find(vehicle); closed == closed_since_.end()) {
        cannot(order, driven_.words.say("the breaker of vehicle {} is off already", vehicle));
      } else {
        course_.closed.push_back({vehicle, {closed->second, open_km}});
        closed_since_.erase(closed);
        opens_km_[vehicle] = open_km;
      }
    }
  }

  const DrivenOrders& driven_;
  DrivenRules rules_;
  DrivenCourse course_;
  std::map<PantographRef, double> up_since_;
  std::map<int, double> closed_since_;
  std::vector<double> stands_km_;   ///< rising, departure included
  std::size_t next_stand_ = 0;      ///< the first that the train has not left yet
  std::map<int, double> opens_km_;  ///< where an open breaker has opened
};

}  // namespace

DrivenCourse follow_orders(const DrivenOrders& driven, const DrivenRules& rules) {
  return ObedientDriver(driven, rules).drive();
}

std::vector<DrivenLeg> driven_legs(const DrivenOrders& driven) {
  std::vector<DrivenLeg> legs{leg_at_departure(driven)};
  for (const Stop& stop : driven.route.stops) {
    if (stop.reversal && stop.at_km > legs.back().front.from_km) {
      legs.back().front.to_km = stop.at_km;
      legs.push_back({{stop.at_km, stop.at_km},
                      lay_out(driven.train, !legs.back().layout.reversed),
                      true,
                      stop.at_km});
    }
  }
  legs.back().front.to_km = driven.route.sections.back().to_km;
  return legs;
}

double highest_speed_kmh(const DrivenCourse& course, FrontStretch stretch) {
  auto speed = std::ranges::upper_bound(course.speeds, stretch.from_km, {}, &OrderedSpeed::from_km);
  double highest = speed == course.speeds.begin() ? 0 : std::prev(speed)->speed_kmh;
  for (; speed != course.speeds.end() && speed->from_km < stretch.to_km; ++speed) {
    highest = std::max(highest, speed->speed_kmh);
  }
  return highest;
}

}  // namespace panup
