/// What the driver does on the move: changes of pantographs, stretches with pantographs down,
/// separation sections with the breaker open.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/listed.h"
#include "plan/moving_change.h"
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
      return std::min(stop.at_km, placing.end_km);
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

/// A zone as the train passes it, and where its orders have to be, each by itself: places of the
/// front, rounded to 10 m, tied to nothing.
struct PassedZone {
  const PowerlessZone* zone = nullptr;
  std::size_t first = 0;      ///< the piece it begins on; lowered: the first of its own
  std::size_t last = 0;       ///< lowered: the last of its own
  PantographSet before = {};  ///< up before it; in it too, where they are not lowered
  PantographSet after = {};   ///< up behind it
  double speed_kmh = 0;       ///< with pantographs down
  double reached_km = 0;      ///< where the first raised pantograph comes to it
  double left_km = 0;         ///< where the last one has passed
  double off_km = 0;          ///< breaker off: no later
  double lower_km = 0;        ///< lower: no later
  double raised_km = 0;       ///< lowered: where all are up if they are raised as soon as may be
  double on_km = 0;           ///< breaker on: no sooner
};

/// The piece on which the front is at `km`, or has just come to.
std::size_t piece_at(const PlanningCase& planning, double km) {
  const auto found = std::ranges::upper_bound(planning.pieces, km, {}, &Piece::to_km);
  return found == planning.pieces.end() ? planning.pieces.size() - 1
                                        : static_cast<std::size_t>(found - planning.pieces.begin());
}

void reckon_lowered(const Placing& placing, PassedZone& passed) {
  const PlanningCase& planning = placing.planning;
  const PowerlessZone& zone = *passed.zone;
  const RunningTrain& train = planning.judge(passed.first).train();
  passed.speed_kmh = planning.lowered_speed_kmh[passed.first];
  while (passed.last + 1 < placing.reached && planning.pieces[passed.last + 1].lowered) {
    passed.speed_kmh = std::min(passed.speed_kmh, planning.lowered_speed_kmh[++passed.last]);
  }
  passed.before = passed.first == 0 ? PantographSet{} : placing.set_on(passed.first - 1);
  passed.after =
      passed.last + 1 < placing.reached ? placing.set_on(passed.last + 1) : PantographSet{};
  passed.reached_km = zone.from_km + offsets_of(train, passed.before).first_km;
  passed.left_km =
      zone.to_km + offsets_of(planning.judge(passed.last).train(), passed.after).last_km;
  const double v = speed_near(placing, passed.reached_km, passed.speed_kmh);
  passed.lower_km = rounded_earlier(passed.reached_km -
                                    km_in(lowering_s(planning, passed.first, passed.before), v));
  passed.off_km = rounded_earlier(passed.lower_km - km_in(opening_s(planning), v));
  // Others may have passed the zone before the last one is down for it.
  passed.left_km =
      std::max(passed.left_km,
               passed.lower_km + km_in(lowering_s(planning, passed.first, passed.before), v));
  passed.raised_km =
      rounded_later(rounded_later(passed.left_km) +
                    km_in(raising_s(planning, passed.last, passed.after), passed.speed_kmh));
  passed.on_km = passed.raised_km;
}

void reckon_open(const Placing& placing, PassedZone& passed) {
  const PlanningCase& planning = placing.planning;
  const PowerlessZone& zone = *passed.zone;
  const Offsets offsets = offsets_of(planning.judge(passed.first).train(), passed.before);
  passed.reached_km = zone.from_km + offsets.first_km;
  passed.left_km = zone.to_km + offsets.last_km;
  const double farthest_km =
      km_in(opening_s(planning),
            highest_line_kmh(planning.request->route, passed.reached_km - 2, passed.reached_km));
  const double v =
      speed_near(placing, passed.reached_km,
                 highest_held_kmh(placing, passed.reached_km - farthest_km, passed.reached_km));
  passed.off_km = rounded_earlier(passed.reached_km - km_in(opening_s(planning), v));
  passed.on_km = rounded_later(passed.left_km);
}

/// The zones that the train comes to, in order.
std::vector<PassedZone> passed_zones(Placing& placing) {
  const PlanningCase& planning = placing.planning;
  std::vector<PassedZone> all;
  for (const PowerlessZone& zone : planning.zones) {
    if (zone.from_km >= placing.end_km) {
      break;
    }
    PassedZone passed{.zone = &zone, .first = piece_at(planning, zone.from_km)};
    passed.last = passed.first;
    if (zone.lowered) {
      reckon_lowered(placing, passed);
    } else {
      passed.before = placing.set_on(passed.first);
      passed.after = passed.before;
      if (passed.before.empty()) {
        continue;
      }
      reckon_open(placing, passed);
    }
    const double stand_km = next_stand_km(placing, zone.from_km);
    if (stand_km <= passed.reached_km && zone.from_km < stand_km) {
      // The front has passed, but the train turns round, or goes no farther, before any raised
      // pantograph comes there.
      placing.comes_instead[piece_at(planning, stand_km)] = passed.before;
      continue;
    }
    all.push_back(passed);
  }
  return all;
}

/// How far the train runs while the breaker closes between two zones: closed and open again at once
/// is of no use, and takes the driver's and the breaker's time.
double closing_room_km(const Placing& placing, const PassedZone& before, const PassedZone& after) {
  return before.on_km >= after.reached_km
             ? 0
             : km_in(opening_s(placing.planning),
                     highest_held_kmh(placing, before.on_km, after.reached_km));
}

/// Zones between which there is no room to close the breaker, in order.
using Group = std::vector<PassedZone>;

std::vector<Group> grouped(const Placing& placing, const std::vector<PassedZone>& all) {
  std::vector<Group> groups;
  for (const PassedZone& passed : all) {
    const bool first = groups.empty();
    const PassedZone* const before = first ? nullptr : &groups.back().back();
    const bool room =
        first ||
        stands_within(placing.planning.request->route, before->zone->to_km, passed.zone->from_km) ||
        before->on_km + closing_room_km(placing, *before, passed) <= passed.off_km;
    if (room) {
      groups.emplace_back();
    }
    groups.back().push_back(passed);
  }
  return groups;
}

std::string names_of(const Group& group) {
  std::vector<std::string> names;
  for (const PassedZone& passed : group) {
    names.push_back(passed.zone->name);
  }
  return listed(names);
}

/// "A is behind", "A and B are behind".
std::string behind_words(const Group& group) {
  const bool one = group.size() == 1 && !group.front().zone->merged;
  return names_of(group) + (one ? " is behind" : " are behind");
}

/// What the orders for a group may not reach over: other orders, and stands.
struct FreeWindow {
  double from_km = 0;
  double to_km = 0;
};

/// Orders a group of zones.
class GroupOrders {
 public:
  GroupOrders(Placing& placing, const Group& group, FreeWindow window)
      : placing_(placing), group_(group), window_(window), names_(names_of(group)) {
    for (const PassedZone& passed : group) {
      if (passed.zone->lowered) {
        first_lowered_ = first_lowered_ == nullptr ? &passed : first_lowered_;
        last_lowered_ = &passed;
      }
    }
  }

  /// Returns where the breaker closes again.
  double order() {
    open_and_lower();
    const double on_km = raise_and_close();
    if (first_lowered_ != nullptr) {
      placing_.holds.push_back({.from_km = std::min(hold_from_km_, first_lowered_->zone->from_km),
                                .to_km = std::max(hold_to_km_, last_lowered_->zone->to_km),
                                .speed_kmh = lowest_kmh(),
                                .piece = first_lowered_->first,
                                .because = "pantographs down for " + first_lowered_->zone->name});
    }
    return on_km;
  }

 private:
  double lowest_kmh() const {
    double lowest = first_lowered_->speed_kmh;
    for (const PassedZone& passed : group_) {
      lowest = passed.zone->lowered ? std::min(lowest, passed.speed_kmh) : lowest;
    }
    return lowest;
  }

  double earliest_off_km(double lower_km) const {
    double off_km = std::numeric_limits<double>::infinity();
    for (const PassedZone& passed : group_) {
      off_km =
          std::min(off_km, &passed == first_lowered_ ? passed.off_km - (passed.lower_km - lower_km)
                                                     : passed.off_km);
    }
    return off_km;
  }

  void open_and_lower() {
    const PassedZone& front = group_.front();
    if (front.before.empty()) {
      hold_from_km_ = front.zone->from_km;
      return;  // the train comes out of a stretch where nothing is up
    }
    double lower_km = first_lowered_ == nullptr ? 0 : first_lowered_->lower_km;
    if (first_lowered_ == &front) {
      // The breaker's time counts from where the order to lower is given, which may be tied to a
      // landmark well before, if the orders before leave room.
      const double tied_km = tied_earlier(placing_.places, lower_km, window_.from_km);
      lower_km = rounded_earlier(earliest_off_km(tied_km)) > window_.from_km ? tied_km : lower_km;
    }
    const double off_km = tied_earlier(placing_.places, earliest_off_km(lower_km), window_.from_km);
    placing_.add({.at_km = off_km,
                  .action = Action::breaker_off,
                  .piece = front.first,
                  .vehicles = placing_.vehicles_with(front.before),
                  .because = names_,
                  .if_not_possible = fmt::format("Stop before {}; do not enter it under power.",
                                                 front.zone->name)});
    if (first_lowered_ == nullptr) {
      return;
    }
    hold_from_km_ = first_lowered_ == &front
                        ? off_km
                        : first_lowered_->off_km - (first_lowered_->lower_km - lower_km);
    placing_.add(
        {.at_km = lower_km,
         .action = Action::lower,
         .piece = first_lowered_->first,
         .pantographs = first_lowered_->before,
         .because = first_lowered_->zone->name,
         .if_not_possible = fmt::format("Stop before {} with the breaker open; do not enter with a "
                                        "pantograph up.",
                                        first_lowered_->zone->name)});
  }

  /// Where the pantographs go up: as soon as may be if all are up before the next zone of the
  /// group, else behind it.
  double raise_km() const {
    double km = rounded_later(last_lowered_->left_km);
    for (const PassedZone& passed : group_) {
      const bool is_behind = passed.zone->from_km > last_lowered_->zone->from_km;
      const double up_km = km + (last_lowered_->raised_km - rounded_later(last_lowered_->left_km));
      if (is_behind && up_km > passed.reached_km) {
        km = passed.on_km;
      }
    }
    return km;
  }

  double raise_and_close() {
    const PassedZone& rear = group_.back();
    double on_km = rear.on_km;
    if (last_lowered_ != nullptr) {
      const double raising_km = last_lowered_->raised_km - rounded_later(last_lowered_->left_km);
      double at_km = raise_km();
      hold_to_km_ = at_km + raising_km;
      if (last_lowered_->after.empty()) {
        return std::max(hold_to_km_, rear.zone->to_km);  // nothing is permitted behind it
      }
      const std::size_t behind = last_lowered_->last + 1;
      if (placing_.planning.pieces[behind].entry == Passage::standstill ||
          (at_km > window_.to_km && last_lowered_->left_km > window_.to_km + 1e-9)) {
        placing_.comes_instead[piece_at(placing_.planning, window_.to_km)] = {};
        hold_to_km_ = window_.to_km;
        return window_.to_km;  // what goes up does so where the train stands
      }
      at_km = std::min(at_km, window_.to_km);
      if (last_lowered_ == &rear) {
        const double tied_km = tied_later(placing_.places, at_km, window_.to_km);
        at_km = rounded_later(tied_km + raising_km) <= window_.to_km ? tied_km : at_km;
      }
      hold_to_km_ = rounded_later(at_km + raising_km);
      on_km = std::max(hold_to_km_, last_lowered_ == &rear ? 0 : rear.on_km);
      raise(at_km);
    } else {
      on_km = tied_later(placing_.places, on_km, window_.to_km);
    }
    if (rear.after.empty()) {
      return on_km;
    }
    if (on_km > window_.to_km && rear.left_km > window_.to_km + 1e-9 && !rear.zone->lowered) {
      return window_.to_km;  // closed at the stand, behind the change there
    }
    on_km = std::min(on_km, window_.to_km);
    placing_.add({.at_km = on_km,
                  .action = Action::breaker_on,
                  .piece = rear.last,
                  .vehicles = placing_.vehicles_with(rear.after),
                  .because = last_lowered_ == nullptr ? behind_words(group_) : "",
                  .if_not_possible = stop_and_report});
    return on_km;
  }

  void raise(double at_km) {
    const std::size_t piece = last_lowered_->last + 1;
    order_tow(placing_, piece, at_km, group_.front().before);
    placing_.add({.at_km = at_km,
                  .action = Action::raise,
                  .piece = piece,
                  .pantographs = last_lowered_->after,
                  .because = behind_words(group_),
                  .if_not_possible = "Keep the breaker open, stop at the next suitable place, go "
                                     "by the fallback table."});
  }

  Placing& placing_;
  const Group& group_;
  FreeWindow window_;
  std::string names_;
  const PassedZone* first_lowered_ = nullptr;
  const PassedZone* last_lowered_ = nullptr;
  double hold_from_km_ = 0;
  double hold_to_km_ = 0;
};

}  // namespace

void change_on_the_move(Placing& placing, std::size_t piece, PantographSet before) {
  const PlanningCase& planning = placing.planning;
  const std::optional<MovingChange> change =
      moving_change(planning, piece, before, placing.set_on(piece));
  if (!change) {
    return;  // only where a configuration was forced
  }
  const double speed_kmh = change->speed_kmh;
  const double start_km = planning.pieces[piece].from_km;
  double km = start_km;
  PantographSet up = before;
  for (std::size_t s = 0; s < change->steps.size(); ++s) {
    const ChangeStep& step = change->steps[s];
    const bool is_last = s + 1 == change->steps.size();
    if (!step.up.empty()) {
      placing.add({.at_km = km,
                   .action = Action::raise,
                   .piece = piece,
                   .pantographs = step.up,
                   .because = !is_last ? "on the move, before the others come down" : "on the move",
                   .if_not_possible = "Keep what is up, stop at the next suitable place and "
                                      "report."});
      km = rounded_later(km + km_in(raising_s(planning, piece, step.up), speed_kmh));
    } else {
      placing.add({.at_km = km,
                   .action = Action::breaker_off,
                   .piece = piece,
                   .vehicles = placing.vehicles_with(step.down),
                   .if_not_possible = "Do not lower under current; stop, report."});
      km = rounded_later(km + km_in(opening_s(planning), speed_kmh));
      placing.add({.at_km = km,
                   .action = Action::lower,
                   .piece = piece,
                   .pantographs = step.down,
                   .if_not_possible = stop_and_report});
      km = rounded_later(km + km_in(lowering_s(planning, piece, step.down), speed_kmh));
    }
    up = (up | step.up) - step.down;
    if (is_last) {
      order_tow(placing, piece, km, before);
    }
    // Raised pantographs of a vehicle that was dead come alive with its breaker, too.
    placing.add({.at_km = km,
                 .action = Action::breaker_on,
                 .piece = piece,
                 .vehicles = placing.vehicles_with(up),
                 .if_not_possible = stop_and_report});
  }
  placing.changes.push_back({start_km, km});
  placing.holds.push_back({.from_km = start_km,
                           .to_km = km,
                           .speed_kmh = speed_kmh,
                           .piece = piece,
                           .because = "change of pantographs on the move"});
}

void pass_zones(Placing& placing) {
  const std::vector<Group> groups = grouped(placing, passed_zones(placing));
  double done_km = placing.planning.pieces.front().from_km;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const Group& group = groups[g];
    FreeWindow window{
        .from_km = std::max(done_km, last_stand_km(placing, group.front().reached_km)),
        .to_km = next_stand_km(placing, group.back().reached_km)};
    const bool runs_on_to_next =
        g + 1 < groups.size() && window.to_km > groups[g + 1].front().reached_km;
    const double closing_km =
        runs_on_to_next ? closing_room_km(placing, group.back(), groups[g + 1].front()) : 0;
    if (runs_on_to_next) {
      window.to_km = std::min(window.to_km, groups[g + 1].front().off_km - closing_km);
    }
    for (const Placing::Change& change : placing.changes) {
      if (change.from_km < group.front().reached_km) {
        window.from_km = std::max(window.from_km, change.to_km);
      } else {
        // Not at its very place: orders of one place are done in the sequence in which they stand.
        window.to_km = std::min(window.to_km, rounded_earlier(change.from_km - 0.01));
      }
    }
    done_km = GroupOrders(placing, group, window).order() + closing_km;
  }
}

}  // namespace panup
