/// What the driver does on the move: changes of pantographs, stretches with pantographs down,
/// separation sections with the breaker open.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/order_parts.h"

namespace panup {

namespace {

const std::string stop_and_report = "Stop at the next suitable place and report.";

/// Offset behind the front of the train of the first and the last pantograph of a set, in km.
struct Offsets {
  double first_km = 0;
  double last_km = 0;
};

Offsets offsets_of(const RunningTrain& train, PantographSet set) {
  Offsets offsets;
  bool first = true;
  for (const std::size_t p : train.front_first) {
    if (!set.contains(p)) {
      continue;
    }
    offsets.last_km = train.pantographs[p].from_front_m / 1000;
    offsets.first_km = first ? offsets.last_km : offsets.first_km;
    first = false;
  }
  return offsets;
}

/// What the rules permit on a piece with pantographs up.
double speed_on(const Placing& placing, std::size_t piece, PantographSet raised) {
  const PlanningCase& planning = placing.planning;
  return planning.judge(piece).judge(planning.ground(piece), raised, {}).speed_kmh;
}

double last_stand_km(const Placing& placing, double before_km) {
  double km = placing.planning.pieces.front().from_km;
  for (const Stop& stop : placing.planning.request->route.stops) {
    km = stop.at_km < before_km ? std::max(km, stop.at_km) : km;
  }
  return km;
}

double next_stand_km(const Placing& placing, double after_km) {
  for (const Stop& stop : placing.planning.request->route.stops) {
    if (stop.at_km >= after_km) {
      return stop.at_km;
    }
  }
  return placing.end_km;
}

/// The train cannot be faster than it can have become since it stood.
double speed_near(const Placing& placing, double km, double speed_kmh) {
  const double room_m = 1000 * std::max(0.0, km - last_stand_km(placing, km));
  return std::min(speed_kmh,
                  3.6 * std::sqrt(2 * placing.planning.request->train.acceleration_ms2 * room_m));
}

/// A stretch with pantographs down: where, for what, and how fast.
struct LoweredZone {
  std::size_t first = 0;
  std::size_t last = 0;
  double from_km = 0;
  double to_km = 0;
  const std::string& name;
  double speed_kmh = 0;
};

LoweredZone zone_of(const PlanningCase& planning, std::size_t first, std::size_t last) {
  LoweredZone zone{.first = first,
                   .last = last,
                   .from_km = planning.pieces[first].from_km,
                   .to_km = planning.pieces[last].to_km,
                   .name = planning.pieces[first].lowered_for,
                   .speed_kmh = planning.lowered_speed_kmh[first]};
  for (std::size_t i = first; i <= last; ++i) {
    zone.speed_kmh = std::min(zone.speed_kmh, planning.lowered_speed_kmh[i]);
  }
  return zone;
}

/// Breaker off and down before the zone. Returns where the breaker opens.
double lower_before(Placing& placing, const LoweredZone& zone, PantographSet before) {
  const RunningTrain& train = placing.planning.judge(zone.first).train();
  const double stand_km = last_stand_km(placing, zone.from_km);
  const double v = speed_near(placing, zone.from_km, zone.speed_kmh);
  const double lower_km = zone.from_km + offsets_of(train, before).first_km -
                          km_in(lowering_s(placing, zone.first, before), v);
  // The breaker's time counts from where the order to lower is given, which may be tied to a
  // landmark well before.
  const double tied_lower_km = std::max(stand_km, tied_earlier(placing.places, lower_km, stand_km));
  const double off_km =
      tied_lower_km - km_in(placing.times.reaction_s + placing.times.breaker_s, v);
  if (off_km <= stand_km) {
    placing.orders.notes.push_back(fmt::format(
        "{} begins so soon after the stand at km {:.3f} that the pantographs would have "
        "to be down at once: the train could not start under power.",
        zone.name, stand_km));
  }
  const double off_at = std::max(stand_km, tied_earlier(placing.places, off_km, stand_km));
  placing.add(
      {.at_km = off_at,
       .action = Action::breaker_off,
       .piece = zone.first,
       .because = zone.name,
       .if_not_possible = fmt::format("Stop before {}; do not enter it under power.", zone.name)});
  placing.add({.at_km = std::max(off_at, tied_lower_km),
               .action = Action::lower,
               .piece = zone.first,
               .pantographs = before,
               .because = zone.name,
               .if_not_possible = fmt::format("Stop before {} with the breaker open; do not enter "
                                              "with a pantograph up.",
                                              zone.name)});
  return off_at;
}

/// Up and breaker on behind the zone. Returns where the breaker closes.
double raise_behind(Placing& placing, const LoweredZone& zone, PantographSet before,
                    PantographSet after) {
  const RunningTrain& train = placing.planning.judge(zone.first).train();
  const std::size_t piece = zone.last + 1;
  const double stand_km = next_stand_km(placing, zone.to_km);
  const double raise_km =
      tied_later(placing.places, zone.to_km + offsets_of(train, after).last_km, stand_km);
  if (stand_km < raise_km && stand_km < placing.end_km) {
    placing.orders.notes.push_back(
        fmt::format("The train stands at km {:.3f} before its rearmost pantograph has left {}: it "
                    "could not start under power.",
                    stand_km, zone.name));
  }
  order_tow(placing, piece, raise_km, before);
  placing.add({.at_km = raise_km,
               .action = Action::raise,
               .piece = piece,
               .pantographs = after,
               .because = zone.name + " is behind",
               .if_not_possible = "Keep the breaker open, stop at the next suitable place, go by "
                                  "the fallback table."});
  const double on_km =
      rounded_later(raise_km + km_in(raising_s(placing, zone.first, after), zone.speed_kmh));
  placing.add({.at_km = on_km,
               .action = Action::breaker_on,
               .piece = piece,
               .if_not_possible = stop_and_report});
  return on_km;
}

}  // namespace

void change_on_the_move(Placing& placing, std::size_t piece, PantographSet before) {
  const PlanningCase& planning = placing.planning;
  const PantographSet now = placing.set_on(piece);
  const PantographSet up = now - before;
  const PantographSet down = before - now;
  const Rule& rule = *rule_in_force(planning.request->rules, RuleKind::change_on_the_move);
  double speed = *number_of(rule, "speed_kmh");
  for (const std::size_t either : {piece - 1, piece}) {
    speed = std::min(speed, speed_on(placing, either, before | now));
  }
  const double start = planning.pieces[piece].from_km;
  double km = start;
  if (!up.empty()) {
    placing.add(
        {.at_km = km,
         .action = Action::raise,
         .piece = piece,
         .pantographs = up,
         .because = !down.empty() ? "on the move, before the others come down" : "on the move",
         .if_not_possible = "Keep what is up, stop at the next suitable place and report."});
    km = rounded_later(km + km_in(raising_s(placing, piece, up), speed));
  }
  if (!down.empty()) {
    placing.add({.at_km = km,
                 .action = Action::breaker_off,
                 .piece = piece,
                 .if_not_possible = "Do not lower under current; stop, report."});
    km = rounded_later(km + km_in(placing.times.breaker_s, speed));
    placing.add({.at_km = km,
                 .action = Action::lower,
                 .piece = piece,
                 .pantographs = down,
                 .if_not_possible = stop_and_report});
    order_tow(placing, piece, km, before);
    km = rounded_later(km + km_in(lowering_s(placing, piece, down), speed));
  }
  // Raised pantographs of a vehicle that was dead come alive with its breaker, too.
  placing.add({.at_km = km,
               .action = Action::breaker_on,
               .piece = piece,
               .if_not_possible = stop_and_report});
  placing.holds.push_back({.from_km = start,
                           .to_km = km,
                           .speed_kmh = speed,
                           .piece = piece,
                           .because = "change of pantographs on the move"});
}

void pass_lowered(Placing& placing, std::size_t first, std::size_t last) {
  const LoweredZone zone = zone_of(placing.planning, first, last);
  const PantographSet before = first == 0 ? PantographSet{} : placing.set_on(first - 1);
  const PantographSet after =
      last + 1 < placing.planning.pieces.size() ? placing.set_on(last + 1) : PantographSet{};
  placing.holds.push_back(
      {.from_km = !before.empty() ? lower_before(placing, zone, before) : zone.from_km,
       .to_km = !after.empty() ? raise_behind(placing, zone, before, after) : zone.to_km,
       .speed_kmh = zone.speed_kmh,
       .piece = first,
       .because = "pantographs down for " + zone.name});
}

void pass_separation(Placing& placing, const SeparationSection& separation) {
  const PlanningCase& planning = placing.planning;
  const SeparationExtent extent = extent_of(separation);
  const auto piece_at = [&](double km) {
    std::size_t i = 0;
    while (i + 1 < planning.pieces.size() && planning.pieces[i].to_km <= km) {
      ++i;
    }
    return i;
  };
  const std::size_t entering = piece_at(extent.from_km);
  const PantographSet up = placing.set_on(entering);
  if (up.empty() || planning.pieces[entering].lowered) {
    return;  // pantographs are down, or nothing is permitted here
  }
  const Offsets offsets = offsets_of(planning.judge(entering).train(), up);
  const double v = speed_near(placing, extent.from_km, speed_on(placing, entering, up));
  const double stand_km = last_stand_km(placing, extent.from_km);
  const double off_km = extent.from_km + offsets.first_km -
                        km_in(placing.times.reaction_s + placing.times.breaker_s, v);
  placing.add({.at_km = std::max(stand_km, tied_earlier(placing.places, off_km, stand_km)),
               .action = Action::breaker_off,
               .piece = entering,
               .because = separation.name,
               .if_not_possible =
                   fmt::format("Stop before {}; do not enter it under power.", separation.name)});
  placing.add({.at_km = tied_later(placing.places, extent.to_km + offsets.last_km,
                                   next_stand_km(placing, extent.to_km)),
               .action = Action::breaker_on,
               .piece = piece_at(extent.to_km),
               .because = separation.name + " is behind",
               .if_not_possible = stop_and_report});
}

}  // namespace panup
