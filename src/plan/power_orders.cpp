/// Where less than full power is ordered, and full power again.

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "judging/current_rule.h"
#include "plan/explain.h"
#include "plan/order_parts.h"

namespace panup {

namespace {

constexpr int full_percent = 100;

/// A limit that holds while the front of the train is between two places.
struct PowerHold {
  double from_km = 0;
  double to_km = 0;
  std::size_t piece = 0;
  PowerLimit limit;
  std::int64_t cost_ms = 0;  ///< of running time, on entering the piece
};

/// Where the last raised pantograph has left a piece.
double end_of_limits_km(const Placing& placing, std::size_t piece) {
  const RunningTrain& train = placing.planning.judge(piece).train();
  double last_m = 0;
  for (const std::size_t p : placing.set_on(piece)) {
    last_m = std::max(last_m, train.pantographs[p].from_front_m);
  }
  return rounded_later(placing.planning.pieces[piece].to_km + last_m / 1000);
}

/// Where the breakers close again, if all are open at `km`; else `km`.
double with_power_from_km(const Placing& placing, double km) {
  const auto& all = placing.orders.without_power;
  const auto open = std::ranges::find_if(
      all, [km](const WithoutPower& one) { return one.off_km <= km && km < one.on_km; });
  return open == all.end() ? km : open->on_km;
}

/// At departure from within the route: limits of wire behind the front, as long as a raised
/// pantograph is under it.
void hold_behind_departure(const Placing& placing, std::map<int, std::vector<PowerHold>>& holds) {
  const PlanningCase& planning = placing.planning;
  const auto& departs_km = planning.request->route.departs_km;
  if (!departs_km || placing.reached == 0) {
    return;
  }
  const RunningTrain& train = planning.judge(0).train();
  const Leg& leg = planning.pieces.front().leg;
  double last_km = 0;
  for (const std::size_t p : placing.set_on(0)) {
    last_km = std::max(last_km, train.pantographs[p].from_front_m / 1000);
  }
  for (const Judge::Behind& behind : behind_at(planning, 0, *departs_km)) {
    if (!behind.under.intersects(placing.set_on(0))) {
      continue;
    }
    const double left_km =
        std::max(behind.section->to_km, leg.turned ? leg.start_km : behind.section->to_km);
    for (PowerLimit& limit :
         power_limits(planning.request->rules, train, *behind.section, placing.set_on(0))) {
      std::vector<PowerHold>& of_vehicle = holds[limit.vehicle];
      of_vehicle.push_back({.from_km = with_power_from_km(placing, *departs_km),
                            .to_km = with_power_from_km(placing, rounded_later(left_km + last_km)),
                            .piece = 0,
                            .limit = std::move(limit),
                            .cost_ms = 0});
    }
  }
}

/// By vehicle; 0: the whole train.
std::map<int, std::vector<PowerHold>> holds_along(const Placing& placing) {
  const PlanningCase& planning = placing.planning;
  std::map<int, std::vector<PowerHold>> holds;
  hold_behind_departure(placing, holds);
  for (std::size_t i = 0; i < placing.reached; ++i) {
    if (planning.pieces[i].lowered) {
      continue;
    }
    // Told once, with the first of the limits that hold there together.
    std::int64_t cost_ms = time_lost_to_power_ms(planning, placing.way, i);
    for (PowerLimit& limit : power_limits(planning.request->rules, planning.judge(i).train(),
                                          planning.section(i), placing.set_on(i))) {
      std::vector<PowerHold>& of_vehicle = holds[limit.vehicle];
      of_vehicle.push_back({.from_km = with_power_from_km(placing, planning.pieces[i].from_km),
                            .to_km = with_power_from_km(placing, end_of_limits_km(placing, i)),
                            .piece = i,
                            .limit = std::move(limit),
                            .cost_ms = std::exchange(cost_ms, 0)});
    }
  }
  return holds;
}

/// One order, and all that it holds for.
struct PowerOrder {
  double from_km = 0;
  int percent = full_percent;
  const PowerHold* first = nullptr;
  std::vector<const PowerHold*> holds;
};

std::string because(const PowerOrder& order, const Words& words) {
  std::int64_t cost_ms = 0;
  for (const PowerHold* const hold : order.holds) {
    cost_ms += hold->cost_ms;
  }
  const auto seconds = std::lround(static_cast<double>(cost_ms) / 1000);
  return seconds > 0 ? words.say("{}; it costs {} of running time", order.first->limit.because,
                                 seconds_words(static_cast<double>(seconds)))
                     : order.first->limit.because;
}

std::vector<PowerOrder> orders_along(const Placing& placing, const std::vector<PowerHold>& holds) {
  std::vector<PowerOrder> orders;
  const auto rank = [](const PowerHold& hold) { return hold.limit.percent; };
  tell_lowest(holds, placing.end_km, rank, [&](double from_km, double, const PowerHold* hold) {
    const int percent = hold == nullptr ? full_percent : hold->limit.percent;
    if (percent != (orders.empty() ? full_percent : orders.back().percent)) {
      orders.push_back({.from_km = from_km, .percent = percent, .first = hold, .holds = {}});
    }
    if (hold != nullptr && (orders.back().holds.empty() || orders.back().holds.back() != hold)) {
      orders.back().holds.push_back(hold);
    }
  });
  return orders;
}

void order_along(Placing& placing, int vehicle, const std::vector<PowerHold>& holds) {
  std::size_t last_piece = 0;
  for (const PowerOrder& order : orders_along(placing, holds)) {
    const bool limits = order.first != nullptr;
    placing.add({.at_km = order.from_km,
                 .action = Action::power,
                 .piece = limits ? order.first->piece : last_piece,
                 .vehicles = vehicle > 0 ? std::vector{vehicle} : std::vector<int>{},
                 .power_percent = order.percent,
                 .because = limits ? because(order, placing.planning.words()) : std::string()});
    last_piece = limits ? order.holds.back()->piece : last_piece;
  }
}

}  // namespace

void order_power(Placing& placing) {
  for (const auto& [vehicle, holds] : holds_along(placing)) {
    order_along(placing, vehicle, holds);
  }
}

}  // namespace panup
