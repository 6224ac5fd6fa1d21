/// What the driver does on the move: changes of pantographs, stretches with pantographs down,
/// separation sections with the breaker open.

#include <algorithm>
#include <limits>

#include "base/same_place.h"
#include "plan/moving_change.h"
#include "plan/order_parts.h"

namespace panup {

namespace {

std::string stop_and_report(const Placing& placing) {
  return placing.planning.words().say("Stop at the next suitable place and report.");
}

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
  const PlanRequest& request = *placing.planning.request;
  const double room_m = 1000 * std::max(0.0, km - last_stand_km(request.route, km));
  return std::min(speed_kmh, reached_from_stand_kmh(request.train, room_m));
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
  double raise_km = 0;        ///< lowered: raise, no sooner
  double raising_km = 0;      ///< lowered: how far the train runs while they rise
  double on_km = 0;           ///< breaker on: no sooner

  double raised_km() const { return rounded_later(raise_km + raising_km); }
};

/// Where to order what must not be done later than `km`: of the boards for each stretch the last
/// before it, and of these the first that is `usable`; nothing if none is.
template <typename Usable>
std::optional<double> board_before(const BoardsByStretch& boards, double km, const Usable& usable) {
  std::optional<double> first;
  for (const std::vector<double>& of_stretch : boards) {
    const auto behind = std::ranges::upper_bound(of_stretch, km + same_place_km);
    if (behind != of_stretch.begin() && usable(*std::prev(behind))) {
      first = std::min(first.value_or(*std::prev(behind)), *std::prev(behind));
    }
  }
  return first;
}

auto behind(double not_before_km) {
  return [not_before_km](double board_km) { return board_km > not_before_km; };
}

/// Where to order what must not be done later than `km`: at a board of the line, else at a
/// landmark.
double placed_earlier(const Placing& placing, const BoardsByStretch& boards, double km,
                      double not_before_km) {
  return boards.empty()
             ? tied_earlier(placing.places, km, not_before_km)
             : board_before(boards, km, behind(not_before_km)).value_or(rounded_earlier(km));
}

/// Where to order what must not be done before `km`: at a board of the line for the last stretch,
/// else at a landmark.
double placed_later(const Placing& placing, const BoardsByStretch& boards, double km,
                    double not_after_km) {
  if (boards.empty()) {
    return tied_later(placing.places, km, not_after_km);
  }
  const double least_km = std::max(km, first_behind_km(boards));
  const auto board = std::ranges::lower_bound(boards.back(), least_km - same_place_km);
  return board == boards.back().end() || *board > not_after_km ? rounded_later(least_km) : *board;
}

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
  const double opening_km = km_in(opening_s(planning), v);
  const double stand_km = last_stand_km(placing.planning.request->route, passed.reached_km);
  passed.lower_km = rounded_earlier(passed.reached_km -
                                    km_in(lowering_s(planning, passed.first, passed.before), v));
  // Others may have passed the zone before the last one is down for it.
  passed.left_km =
      std::max(passed.left_km,
               passed.lower_km + km_in(lowering_s(planning, passed.first, passed.before), v));
  passed.off_km = rounded_earlier(passed.lower_km - opening_km);
  const auto off_before_km = [&](double board_km) {
    return rounded_earlier(
        board_km - km_in(opening_s(planning), speed_near(placing, board_km, passed.speed_kmh)));
  };
  // A train that has hardly started lowers farther on.
  if (const auto board = board_before(zone.boards.lower, passed.lower_km, [&](double board_km) {
        return off_before_km(board_km) > stand_km;
      })) {
    passed.lower_km = *board;
    passed.off_km = off_before_km(*board);
  }
  passed.off_km = board_before(zone.boards.breaker_off, passed.off_km, behind(stand_km))
                      .value_or(passed.off_km);
  passed.raise_km = std::max(rounded_later(passed.left_km), first_behind_km(zone.boards.raise));
  passed.raising_km = km_in(raising_s(planning, passed.last, passed.after), passed.speed_kmh);
  passed.on_km = passed.raised_km();
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
  passed.off_km =
      board_before(zone.boards.breaker_off, passed.off_km,
                   behind(last_stand_km(placing.planning.request->route, passed.reached_km)))
          .value_or(passed.off_km);
  passed.on_km = rounded_later(passed.left_km);
}

/// Where an order cannot stand at a board of the line, the finding says why; the words are for the
/// order itself. Both are empty where it stands at one, or the line has none.
struct OffBoard {
  std::string finding;
  std::string words;
};

/// `km`: of an order before the zone. A board before which the train stands once more is no matter.
OffBoard off_board_before(const Words& words, const BoardsByStretch& boards, Board board,
                          const PowerlessZone& zone, double km) {
  if (boards.empty() || boards.front().front() <= km + same_place_km) {
    return {};
  }
  const double board_km = boards.front().front();
  const std::string what = words.named(name_of(board));
  return {words.say("The board \"{}\" for {}, km {:.3f}, comes too late for this train: what it "
                    "says is done at km {:.3f}.",
                    what, zone.name, board_km, km),
          words.say("before the board at km {:.3f}", board_km)};
}

/// `km`: of an order behind the zone.
OffBoard off_board_behind(const Words& words, const BoardsByStretch& boards, Board board,
                          const PowerlessZone& zone, double km) {
  if (boards.empty()) {
    return {};
  }
  const std::string what = words.named(name_of(board));
  if (const double last_km = boards.back().back(); last_km < km - same_place_km) {
    return {words.say("The board \"{}\" for {}, km {:.3f}, comes too soon for this train: what it "
                      "says is done at km {:.3f}.",
                      what, zone.name, last_km, km),
            words.say("not yet at the board at km {:.3f}", last_km)};
  }
  if (const double first_km = first_behind_km(boards); first_km > km + same_place_km) {
    return {words.say("The train stands behind {} before it comes to the board \"{}\", km {:.3f}: "
                      "what it says is done where the train stands, km {:.3f}.",
                      zone.name, what, first_km, km),
            {}};
  }
  return {};
}

/// The zones that the train comes to, in order.
std::vector<PassedZone> passed_zones(Placing& placing) {
  const PlanningCase& planning = placing.planning;
  std::vector<PassedZone> all;
  for (const PowerlessZone& zone : planning.zones) {
    if (zone.from_km >= placing.end_km) {
      break;
    }
    if (zone.from_km < planning.pieces.front().from_km) {
      continue;  // what is up at departure has it behind
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

/// Zones between which there is no room to close the breaker, in order.
using Group = std::vector<PassedZone>;

/// Where the breaker opens for a group, at the latest.
double first_off_km(const Group& group) {
  return std::ranges::min(group, {}, &PassedZone::off_km).off_km;
}

/// Where the breaker closes behind a group, no sooner.
double last_on_km(const Group& group) {
  double km = group.back().on_km;
  for (const PassedZone& passed : group) {
    km = std::max(km, first_behind_km(passed.zone->boards.breaker_on));
  }
  return km;
}

/// How far the train runs while the breaker closes between two zones: closed and open again at once
/// is of no use, and takes the driver's and the breaker's time.
double closing_room_km(const Placing& placing, const Group& before, const PassedZone& after) {
  const double on_km = last_on_km(before);
  return on_km >= after.reached_km ? 0
                                   : km_in(opening_s(placing.planning),
                                           highest_held_kmh(placing, on_km, after.reached_km));
}

/// Whether the breaker can close behind the last zone of a group, and open again in time for the
/// first order of another.
bool may_close_between(const Placing& placing, const Group& before, const Group& after) {
  const PassedZone& last = before.back();
  return stands_within(placing.planning.request->route, last.zone->to_km,
                       after.front().zone->from_km) ||
         last_on_km(before) + closing_room_km(placing, before, after.front()) <=
             first_off_km(after);
}

std::vector<Group> grouped(const Placing& placing, const std::vector<PassedZone>& all) {
  std::vector<Group> groups;
  for (const PassedZone& passed : all) {
    Group group{passed};
    // The board for a zone may stand before those that the train passes on the way to it.
    while (!groups.empty() && !may_close_between(placing, groups.back(), group)) {
      group.insert(group.begin(), groups.back().begin(), groups.back().end());
      groups.pop_back();
    }
    groups.push_back(std::move(group));
  }
  return groups;
}

std::string names_of(const Group& group, const Words& words) {
  std::vector<std::string> names;
  for (const PassedZone& passed : group) {
    names.push_back(passed.zone->name);
  }
  return words.listed(names);
}

/// "A is behind", "A and B are behind".
std::string behind_words(const Group& group, const Words& words) {
  const bool one = group.size() == 1 && !group.front().zone->merged;
  return words.say_of(one ? 1 : 2, "{} is behind", "{} are behind", names_of(group, words));
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
      : placing_(placing),
        group_(group),
        window_(window),
        names_(names_of(group, placing.planning.words())) {
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
    WithoutPower& without = placing_.orders.without_power.emplace_back();
    without = {.off_km = off_km_, .on_km = on_km};
    for (const PassedZone& passed : group_) {
      without.zones.push_back(*passed.zone);
    }
    if (first_lowered_ != nullptr) {
      placing_.holds.push_back(
          {.from_km = std::min(hold_from_km_, first_lowered_->zone->from_km),
           .to_km = std::max(hold_to_km_, last_lowered_->zone->to_km),
           .speed_kmh = lowest_kmh(),
           .piece = first_lowered_->first,
           .because = words().say("pantographs down for {}", first_lowered_->zone->name),
           .rule = rule_id(placing_, RuleKind::change_while_lowered)});
    }
    return on_km;
  }

 private:
  const Words& words() const { return placing_.planning.words(); }

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

  bool is_at_board(double off_km) const {
    return std::ranges::any_of(group_, [&](const PassedZone& passed) {
      return std::ranges::any_of(passed.zone->boards.breaker_off, [&](const auto& boards) {
        return std::ranges::find(boards, off_km) != boards.end();
      });
    });
  }

  void open_and_lower() {
    const PassedZone& front = group_.front();
    if (front.before.empty()) {
      off_km_ = hold_from_km_ = front.zone->from_km;
      return;  // the train comes out of a stretch where nothing is up
    }
    double lower_km = first_lowered_ == nullptr ? 0 : first_lowered_->lower_km;
    if (first_lowered_ == &front) {
      // The breaker's time counts from where the order to lower is given, which may be tied to a
      // landmark well before, if the orders before leave room.
      const double tied_km =
          placed_earlier(placing_, front.zone->boards.lower, lower_km, window_.from_km);
      lower_km = rounded_earlier(earliest_off_km(tied_km)) > window_.from_km ? tied_km : lower_km;
    }
    off_km_ = earliest_off_km(lower_km);
    if (!is_at_board(off_km_)) {
      off_km_ = placed_earlier(placing_, front.zone->boards.breaker_off, off_km_, window_.from_km);
    }
    placing_.add(
        {.at_km = off_km_,
         .action = Action::breaker_off,
         .piece = front.first,
         .vehicles = placing_.vehicles_with(front.before),
         .because = with_words(names_, off_board_before(words(), front.zone->boards.breaker_off,
                                                        Board::breaker_off, *front.zone, off_km_)),
         .if_not_possible =
             words().say("Stop before {}; do not enter it under power.", front.zone->name)});
    if (first_lowered_ == nullptr) {
      return;
    }
    hold_from_km_ = first_lowered_ == &front
                        ? off_km_
                        : first_lowered_->off_km - (first_lowered_->lower_km - lower_km);
    placing_.add(
        {.at_km = lower_km,
         .action = Action::lower,
         .piece = first_lowered_->first,
         .pantographs = first_lowered_->before,
         .because = with_words(first_lowered_->zone->name,
                               off_board_before(words(), first_lowered_->zone->boards.lower,
                                                Board::lower, *first_lowered_->zone, lower_km)),
         .if_not_possible = words().say("Stop before {} with the breaker open; do not enter with a "
                                        "pantograph up.",
                                        first_lowered_->zone->name)});
  }

  /// Where the pantographs go up: as soon as may be if all are up before the next zone of the
  /// group, else behind it.
  double raise_km() const {
    double km = last_lowered_->raise_km;
    for (const PassedZone& passed : group_) {
      const bool is_behind = passed.zone->from_km > last_lowered_->zone->from_km;
      const double up_km = km + last_lowered_->raising_km;
      if (is_behind && up_km > passed.reached_km) {
        km = passed.on_km;
      }
    }
    return km;
  }

  double raise_and_close() {
    const PassedZone& rear = group_.back();
    double on_km = last_on_km(group_);
    if (last_lowered_ != nullptr) {
      const double raising_km = last_lowered_->raising_km;
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
        const double tied_km =
            placed_later(placing_, rear.zone->boards.raise, at_km, window_.to_km);
        at_km = rounded_later(tied_km + raising_km) <= window_.to_km ? tied_km : at_km;
      }
      hold_to_km_ = rounded_later(at_km + raising_km);
      on_km = std::max(hold_to_km_, on_km);
      if (!rear.zone->boards.breaker_on.empty()) {
        on_km = placed_later(placing_, rear.zone->boards.breaker_on, on_km, window_.to_km);
      }
      raise(at_km);
    } else {
      on_km = placed_later(placing_, rear.zone->boards.breaker_on, on_km, window_.to_km);
    }
    if (rear.after.empty()) {
      return on_km;
    }
    if (on_km > window_.to_km && rear.left_km > window_.to_km + 1e-9 && !rear.zone->lowered) {
      return window_.to_km;  // closed at the stand, behind the change there
    }
    on_km = std::min(on_km, window_.to_km);
    placing_.add(
        {.at_km = on_km,
         .action = Action::breaker_on,
         .piece = rear.last,
         .vehicles = placing_.vehicles_with(rear.after),
         .because = with_words(last_lowered_ == nullptr ? behind_words(group_, words()) : "",
                               off_board_behind(words(), rear.zone->boards.breaker_on,
                                                Board::breaker_on, *rear.zone, on_km)),
         .if_not_possible = stop_and_report(placing_)});
    return on_km;
  }

  /// Notes the finding, and adds to the reason of the order what it says.
  std::string with_words(const std::string& because, OffBoard off) {
    if (!off.finding.empty()) {
      const Rule& rule = *rule_in_force(placing_.planning.request->rules, RuleKind::line_boards);
      Finding finding = finding_of(rule, rule.strength, std::move(off.finding));
      finding.kept = false;
      placing_.orders.findings.push_back(
          {.at_km = group_.front().zone->from_km + same_place_km, .finding = std::move(finding)});
    }
    return because.empty() || off.words.empty() ? because + off.words : because + ", " + off.words;
  }

  void raise(double at_km) {
    const std::size_t piece = last_lowered_->last + 1;
    order_tow(placing_, piece, at_km, group_.front().before);
    placing_.add(
        {.at_km = at_km,
         .action = Action::raise,
         .piece = piece,
         .pantographs = last_lowered_->after,
         .because = with_words(behind_words(group_, words()),
                               off_board_behind(words(), last_lowered_->zone->boards.raise,
                                                Board::raise, *last_lowered_->zone, at_km)),
         .if_not_possible =
             words().say("Keep the breaker open, stop at the next suitable place, go "
                         "by the fallback table.")});
  }

  Placing& placing_;
  const Group& group_;
  FreeWindow window_;
  std::string names_;
  const PassedZone* first_lowered_ = nullptr;
  const PassedZone* last_lowered_ = nullptr;
  double off_km_ = 0;
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
  const Words& words = planning.words();
  const double speed_kmh = change->speed_kmh;
  const double start_km = planning.pieces[piece].from_km;
  double km = start_km;
  PantographSet up = before;
  for (std::size_t s = 0; s < change->steps.size(); ++s) {
    const ChangeStep& step = change->steps[s];
    const bool is_last = s + 1 == change->steps.size();
    if (!step.up.empty()) {
      placing.add(
          {.at_km = km,
           .action = Action::raise,
           .piece = piece,
           .pantographs = step.up,
           .because = is_last ? words.say("on the move")
                              : words.say("on the move, before the others come down"),
           .if_not_possible = words.say("Keep what is up, stop at the next suitable place and "
                                        "report.")});
      km = rounded_later(km + km_in(raising_s(planning, piece, step.up), speed_kmh));
    } else {
      placing.add({.at_km = km,
                   .action = Action::breaker_off,
                   .piece = piece,
                   .vehicles = placing.vehicles_with(step.down),
                   .if_not_possible = words.say("Do not lower under current; stop, report.")});
      km = rounded_later(km + km_in(opening_s(planning), speed_kmh));
      placing.add({.at_km = km,
                   .action = Action::lower,
                   .piece = piece,
                   .pantographs = step.down,
                   .if_not_possible = stop_and_report(placing)});
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
                 .if_not_possible = stop_and_report(placing)});
  }
  placing.changes.push_back({start_km, km});
  placing.holds.push_back({.from_km = start_km,
                           .to_km = km,
                           .speed_kmh = speed_kmh,
                           .piece = piece,
                           .because = words.say("change of pantographs on the move"),
                           .rule = rule_id(placing, RuleKind::change_on_the_move)});
}

void pass_zones(Placing& placing) {
  const std::vector<Group> groups = grouped(placing, passed_zones(placing));
  double done_km = placing.planning.pieces.front().from_km;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const Group& group = groups[g];
    FreeWindow window{.from_km = std::max(done_km, last_stand_km(placing.planning.request->route,
                                                                 group.front().reached_km)),
                      .to_km = next_stand_km(placing, group.back().reached_km)};
    const bool runs_on_to_next =
        g + 1 < groups.size() && window.to_km > groups[g + 1].front().reached_km;
    const double closing_km =
        runs_on_to_next ? closing_room_km(placing, group, groups[g + 1].front()) : 0;
    if (runs_on_to_next) {
      window.to_km = std::min(window.to_km, first_off_km(groups[g + 1]) - closing_km);
    }
    for (const Placing::Along& change : placing.changes) {
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
