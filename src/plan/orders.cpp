#include "plan/orders.h"

#include <algorithm>

#include "plan/order_parts.h"

namespace panup {

namespace {

/// The pieces before the first blocked stretch; also those with pantographs down that lead into it
/// are not entered, since the train could not raise any behind them.
std::size_t pieces_reached(const PlanningCase& planning, const Way& way) {
  std::size_t reached = 0;
  while (reached < planning.pieces.size() && !stops_before_lowered(planning, way, reached) &&
         (planning.pieces[reached].lowered || way.raised[reached] != blocked)) {
    ++reached;
  }
  while (reached > 0 && reached < planning.pieces.size() && planning.pieces[reached - 1].lowered) {
    --reached;
  }
  return reached;
}

PantographSet help_at(const std::vector<StandHelp>& helps, std::size_t piece) {
  PantographSet help;
  for (const StandHelp& stand : helps) {
    help |= stand.piece == piece ? stand.raised : PantographSet{};
  }
  return help;
}

void stand_before(Placing& placing, const std::vector<StandHelp>& helps, std::size_t piece) {
  if (piece > 0) {
    raise_for_stand(placing, helps, piece);
    change_at_stand(placing, piece, placing.comes_with(piece));
  } else {
    change_at_stand(placing, piece, {});
    raise_for_stand(placing, helps, piece);
  }
  lower_after_stand(placing, piece, help_at(helps, piece) - placing.set_on(piece));
}

void order_changes_on_the_move(Placing& placing) {
  const std::vector<Piece>& pieces = placing.planning.pieces;
  for (std::size_t i = 1; i < placing.reached; ++i) {
    if (pieces[i].entry == Passage::on_the_move &&
        placing.way.raised[i] != placing.way.raised[i - 1]) {
      change_on_the_move(placing, i, placing.set_on(i - 1));
    }
  }
}

void order_at_stands(Placing& placing, const std::vector<StandHelp>& helps) {
  const std::vector<Piece>& pieces = placing.planning.pieces;
  for (std::size_t i = 0; i < placing.reached; ++i) {
    const Piece& piece = pieces[i];
    if (piece.entered_reversed) {
      turn_round(placing, i);
    }
    if (!piece.lowered && piece.entry == Passage::standstill) {
      stand_before(placing, helps, i);
    }
  }
}

/// Leaves of the orders for breakers the vehicles whose breaker is not so already.
void leave_out_needless(std::vector<Order>& orders) {
  std::set<int> closed;
  for (Order& order : orders) {
    if (order.action == Action::breaker_on) {
      std::erase_if(order.vehicles, [&](int number) { return !closed.insert(number).second; });
    } else if (order.action == Action::breaker_off) {
      std::erase_if(order.vehicles, [&](int number) { return closed.erase(number) == 0; });
    }
  }
  std::erase_if(orders, [](const Order& order) {
    return (order.action == Action::breaker_on || order.action == Action::breaker_off) &&
           order.vehicles.empty();
  });
}

}  // namespace

Orders place_orders(const PlanningCase& planning, const Way& way, const StandCurrents& currents,
                    const std::vector<ShortStop>& short_stops) {
  const std::size_t reached = pieces_reached(planning, way);
  const bool to_the_end = reached == planning.pieces.size();
  const DriverTimes times = driver_times(planning.request->rules);
  Placing placing{
      .planning = planning,
      .way = way,
      .times = times,
      .places = named_places(planning.request->route, times.landmark_within_m),
      .reached = reached,
      .end_km = to_the_end ? planning.pieces.back().to_km : planning.pieces[reached].from_km};
  hold_speeds(placing);
  order_changes_on_the_move(placing);
  pass_zones(placing);
  order_short_stops(placing, short_stops);
  limit_current_at_stands(placing, currents.limits);
  order_at_stands(placing, currents.helps);
  if (to_the_end) {
    raise_for_stand(placing, currents.helps, reached);
  }
  order_power(placing);
  order_speeds(placing);
  Orders orders = std::move(placing.orders);
  if (!to_the_end) {
    std::erase_if(orders.all, [&](const Order& order) { return order.at_km >= placing.end_km; });
    orders.all.push_back({.at_km = placing.end_km,
                          .action = Action::speed,
                          .piece = reached,
                          .because = planning.words().say("no permitted configuration beyond")});
  }
  std::ranges::stable_sort(orders.all, {}, &Order::at_km);
  leave_out_needless(orders.all);
  return orders;
}

}  // namespace panup
