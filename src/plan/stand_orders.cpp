/// What the driver does where the train stands.

#include <algorithm>
#include <cmath>

#include "plan/order_parts.h"

namespace panup {

namespace {

std::string not_lowered(const Placing& placing) {
  return placing.planning.words().say("Do not lower under current; report.");
}

std::string not_closed(const Placing& placing) {
  return placing.planning.words().say("Do not depart; report.");
}

}  // namespace

void order_tow(Placing& placing, std::size_t piece, double km, PantographSet before) {
  const PantographSet now = placing.set_on(piece);
  std::vector<int> numbers;
  for (const RunningVehicle& vehicle : placing.planning.judge(piece).train().vehicles) {
    const bool was_dead = !before.empty() && !before.intersects(vehicle.all);
    if (!now.empty() && !vehicle.dead && !now.intersects(vehicle.all) && !was_dead) {
      numbers.push_back(vehicle.number);
    }
  }
  if (numbers.empty()) {
    return;
  }
  std::ranges::sort(numbers);
  placing.add({.at_km = km,
               .action = Action::tow,
               .piece = piece,
               .vehicles = std::move(numbers),
               .if_not_possible = placing.planning.words().say(
                   "Do not raise others; stop at the next suitable place and report.")});
}

void change_at_stand(Placing& placing, std::size_t piece, PantographSet before) {
  const double km = placing.planning.pieces[piece].from_km;
  const PantographSet now = placing.set_on(piece);
  const PantographSet down = before - now;
  const PantographSet up = now - before;
  if (!down.empty()) {
    placing.add({.at_km = km,
                 .action = Action::breaker_off,
                 .piece = piece,
                 .vehicles = placing.vehicles_with(down),
                 .if_not_possible = not_lowered(placing)});
    placing.add(
        {.at_km = km,
         .action = Action::lower,
         .piece = piece,
         .pantographs = down,
         .if_not_possible = placing.planning.words().say("Use the emergency lowering; report.")});
  }
  order_tow(placing, piece, km, before);
  if (!up.empty()) {
    placing.add({.at_km = km,
                 .action = Action::raise,
                 .piece = piece,
                 .pantographs = up,
                 .if_not_possible =
                     placing.planning.words().say("Do not depart; go by the fallback table.")});
  }
  placing.add({.at_km = km,
               .action = Action::breaker_on,
               .piece = piece,
               .vehicles = placing.vehicles_with(now),
               .if_not_possible = not_closed(placing)});
}

void raise_for_stand(Placing& placing, const std::vector<StandHelp>& helps, std::size_t entered) {
  const std::vector<Piece>& pieces = placing.planning.pieces;
  const bool arrival = entered == pieces.size();
  for (const StandHelp& stand : helps) {
    if (stand.piece == entered) {
      placing.add({.at_km = arrival ? pieces.back().to_km : pieces[entered].from_km,
                   .action = Action::raise,
                   .piece = arrival ? entered - 1 : entered,
                   .pantographs = stand.raised,
                   .because = stand.because,
                   .if_not_possible = placing.planning.words().say(
                       "Switch off heating and other loads until the rest carries "
                       "what is drawn.")});
    }
  }
}

void lower_after_stand(Placing& placing, std::size_t piece, PantographSet set) {
  if (set.empty()) {
    return;
  }
  const double km = placing.planning.pieces[piece].from_km;
  placing.add({.at_km = km,
               .action = Action::breaker_off,
               .piece = piece,
               .vehicles = placing.vehicles_with(set),
               .because = placing.planning.words().say("before departure"),
               .if_not_possible = not_lowered(placing)});
  placing.add({.at_km = km,
               .action = Action::lower,
               .piece = piece,
               .pantographs = set,
               .because = placing.planning.words().say("before departure, unless no other is up"),
               .if_not_possible = placing.planning.words().say(
                   "Do not depart; use the emergency lowering and report.")});
  placing.add({.at_km = km,
               .action = Action::breaker_on,
               .piece = piece,
               .vehicles = placing.vehicles_with(placing.set_on(piece)),
               .if_not_possible = not_closed(placing)});
}

void limit_current_at_stands(Placing& placing, const std::vector<StandLimit>& limits) {
  for (const StandLimit& limit : limits) {
    placing.add({.at_km = limit.at_km,
                 .action = Action::power,
                 .piece = limit.piece,
                 .vehicles = {limit.vehicle},
                 .current_a = std::floor(limit.current_a),
                 .because = limit.because});
  }
}

void order_short_stops(Placing& placing, const std::vector<ShortStop>& stops) {
  for (const ShortStop& stop : stops) {
    placing.add({.at_km = stop.at_km,
                 .action = Action::stop_short,
                 .piece = stop.piece,
                 .what = stop.what,
                 .because = stop.because});
  }
}

void turn_round(Placing& placing, std::size_t piece) {
  placing.add({.at_km = placing.planning.pieces[piece].from_km,
               .action = Action::reverse,
               .piece = piece,
               .if_not_possible = placing.planning.words().say("Stay, and report.")});
}

}  // namespace panup
