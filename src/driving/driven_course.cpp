#include "driving/driven_course.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <optional>

namespace panup {

namespace {

constexpr double same_place_km = 1e-6;

/// Where the front is after a time, at the speeds ordered.
double front_after(const std::vector<OrderedSpeed>& speeds, double at_km, double seconds) {
  while (seconds > 0) {
    double speed_kmh = 0;
    double next_km = std::numeric_limits<double>::infinity();
    for (const OrderedSpeed& speed : speeds) {
      if (speed.from_km <= at_km + same_place_km) {
        speed_kmh = speed.speed_kmh;
      } else {
        next_km = std::min(next_km, speed.from_km);
      }
    }
    if (speed_kmh <= 0) {
      return at_km;
    }
    const double needed_s = (next_km - at_km) / speed_kmh * 3600;
    if (needed_s >= seconds) {
      return at_km + speed_kmh * seconds / 3600;
    }
    seconds -= needed_s;
    at_km = next_km;
  }
  return at_km;
}

/// The driver on the way: what is up and closed, since where.
class ObedientDriver {
 public:
  ObedientDriver(const Plan& plan, const DrivenTimes& times) : plan_(plan), times_(times) {
    for (const Instruction& order : plan.instructions) {
      if (order.action == Action::speed) {
        course_.speeds.push_back({order.at_km, order.speed_kmh});
      }
    }
    course_.end_km = plan.route.sections.back().to_km;
    begin_leg(plan.route.sections.front().from_km, false);
  }

  DrivenCourse drive() {
    for (const Instruction& order : plan_.instructions) {
      obey(order);
      if (order.action == Action::speed && order.speed_kmh <= 0) {
        course_.end_km = order.at_km;
        break;
      }
    }
    end_leg(course_.end_km);
    for (const auto& [vehicle, since] : closed_since_) {
      course_.closed.push_back({vehicle, {since, course_.end_km}});
    }
    return std::move(course_);
  }

 private:
  void begin_leg(double at_km, bool turned) {
    const bool reversed = turned && !course_.legs.back().layout.reversed;
    course_.legs.push_back({{at_km, at_km}, lay_out(plan_.train, reversed), turned});
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

  bool stands_at(double km) const {
    const auto here = [km](double at_km) { return std::abs(at_km - km) < same_place_km; };
    return here(plan_.route.sections.front().from_km) ||
           std::ranges::any_of(plan_.route.stops,
                               [&](const Stop& stop) { return here(stop.at_km); });
  }

  /// Where what takes so long is done, begun here; at a stand it is waited for.
  double done_at(double km, double seconds) const {
    return stands_at(km) ? km : front_after(course_.speeds, km, seconds);
  }

  void cannot(const Instruction& order, std::string why) {
    course_.faults.push_back({order.at_km, fmt::format("'{}': {}", order.what, why)});
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
        begin_leg(order.at_km, true);
        for (auto& [ref, since] : up_since_) {
          since = order.at_km;
        }
        return;
      case Action::speed:
      case Action::tow:
        return;
    }
  }

  void raise(const Instruction& order) {
    for (const PantographRef ref : order.pantographs) {
      const PlacedPantograph* const placed = pantograph(ref);
      if (!placed) {
        cannot(order, fmt::format("the train has no pantograph {}", to_string(ref)));
      } else if (placed->defective) {
        cannot(order, fmt::format("{} is defective", to_string(ref)));
      } else if (!up_since_.try_emplace(ref, order.at_km).second) {
        cannot(order, fmt::format("{} is up already", to_string(ref)));
      }
    }
  }

  void lower(const Instruction& order) {
    for (const PantographRef ref : order.pantographs) {
      const auto up = up_since_.find(ref);
      if (up == up_since_.end()) {
        cannot(order, fmt::format("{} is down already", to_string(ref)));
        continue;
      }
      const double time_s = times_.reaction_s + pantograph(ref)->type->lowering_time_s;
      touched(ref, {up->second, done_at(order.at_km, time_s)});
      up_since_.erase(up);
    }
  }

  /// The vehicles of an order for breakers: the one it names, or all that have pantographs.
  std::vector<int> vehicles_of(const Instruction& order) const {
    if (order.vehicle != 0) {
      return {order.vehicle};
    }
    std::vector<int> vehicles;
    for (const PlacedPantograph& placed : course_.legs.back().layout.pantographs) {
      if (std::ranges::find(vehicles, placed.ref.vehicle) == vehicles.end()) {
        vehicles.push_back(placed.ref.vehicle);
      }
    }
    return vehicles;
  }

  void close(const Instruction& order) {
    bool any = false;
    for (const int vehicle : vehicles_of(order)) {
      any = closed_since_.try_emplace(vehicle, order.at_km).second || any;
    }
    if (!any) {
      cannot(order, "no breaker is off");
    }
  }

  void open(const Instruction& order) {
    bool any = false;
    const double open_km = done_at(order.at_km, times_.reaction_s + times_.breaker_s);
    for (const int vehicle : vehicles_of(order)) {
      if (const auto closed = closed_since_.find(vehicle); closed != closed_since_.end()) {
        course_.closed.push_back({vehicle, {closed->second, open_km}});
        closed_since_.erase(closed);
        any = true;
      }
    }
    if (!any) {
      cannot(order, "no breaker is on");
    }
  }

  const Plan& plan_;
  DrivenTimes times_;
  DrivenCourse course_;
  std::map<PantographRef, double> up_since_;
  std::map<int, double> closed_since_;
};

}  // namespace

DrivenCourse follow_orders(const Plan& plan, const DrivenTimes& times) {
  return ObedientDriver(plan, times).drive();
}

double highest_speed_kmh(const DrivenCourse& course, FrontStretch stretch) {
  double highest = 0;
  for (std::size_t i = 0; i < course.speeds.size(); ++i) {
    const double to_km = i + 1 < course.speeds.size() ? course.speeds[i + 1].from_km
                                                      : std::numeric_limits<double>::infinity();
    if (course.speeds[i].from_km < stretch.to_km && to_km > stretch.from_km) {
      highest = std::max(highest, course.speeds[i].speed_kmh);
    }
  }
  return highest;
}

}  // namespace panup
