#include "plan/orders.h"

#include <algorithm>

#include "plan/order_parts.h"

namespace panup {

namespace {

template <typename Value>
double greatest_time(const RunningTrain& train, PantographSet set, Value PantographType::*time) {
  double greatest = 0;
  for (const std::size_t p : set) {
    greatest = std::max(greatest, train.pantographs[p].type->*time);
  }
  return greatest;
}

/// The pieces before the first blocked stretch; also those with pantographs down that lead into it
/// are not entered, since the train could not raise any behind them.
std::size_t pieces_reached(const PlanningCase& planning, const Way& way) {
  std::size_t reached = 0;
  while (reached < planning.pieces.size() &&
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
    change_at_stand(placing, piece, placing.set_on(piece - 1));
  } else {
    change_at_stand(placing, piece, {});
    raise_for_stand(placing, helps, piece);
  }
  lower_after_stand(placing, piece, help_at(helps, piece) - placing.set_on(piece));
}

/// Orders where pieces begin, and those for the stretches with pantographs down.
void order_changes(Placing& placing, const std::vector<StandHelp>& helps) {
  const std::vector<Piece>& pieces = placing.planning.pieces;
  for (std::size_t i = 0; i < placing.reached; ++i) {
    const Piece& piece = pieces[i];
    if (piece.entered_reversed) {
      turn_round(placing, i);
    }
    if (piece.lowered) {
      std::size_t last = i;
      while (last + 1 < placing.reached && pieces[last + 1].lowered) {
        ++last;
      }
      pass_lowered(placing, i, last);
      i = last;
      continue;
    }
    const bool was_lowered = i > 0 && pieces[i - 1].lowered;
    if (i == 0 || (piece.entry == Passage::standstill && !was_lowered)) {
      stand_before(placing, helps, i);
    } else if (piece.entry == Passage::on_the_move &&
               placing.way.raised[i] != placing.way.raised[i - 1]) {
      change_on_the_move(placing, i, placing.set_on(i - 1));
    }
  }
}

}  // namespace

double lowering_s(const Placing& placing, std::size_t piece, PantographSet set) {
  const RunningTrain& train = placing.planning.judge(piece).train();
  return placing.times.reaction_s + greatest_time(train, set, &PantographType::lowering_time_s);
}

double raising_s(const Placing& placing, std::size_t piece, PantographSet set) {
  const RunningTrain& train = placing.planning.judge(piece).train();
  return placing.times.reaction_s + greatest_time(train, set, &PantographType::raising_time_s);
}

Orders place_orders(const PlanningCase& planning, const Way& way,
                    const std::vector<StandHelp>& helps) {
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
  order_changes(placing, helps);
  if (to_the_end) {
    raise_for_stand(placing, helps, reached);
  }
  for (const SeparationSection& separation : planning.request->route.separations) {
    if (!separation.pantograph_lowered && separation.breaker_off &&
        separation.from_km < placing.end_km) {
      pass_separation(placing, separation);
    }
  }
  hold_speeds(placing);
  order_speeds(placing);
  Orders orders = std::move(placing.orders);
  if (!to_the_end) {
    std::erase_if(orders.all, [&](const Order& order) { return order.at_km >= placing.end_km; });
    orders.all.push_back({.at_km = placing.end_km,
                          .action = Action::speed,
                          .piece = reached,
                          .because = "no permitted configuration beyond"});
  }
  std::ranges::stable_sort(orders.all, {}, &Order::at_km);
  return orders;
}

}  // namespace panup
