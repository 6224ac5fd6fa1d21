/// What speeds hold along the way, and where they are ordered.

#include <algorithm>
#include <iterator>
#include <limits>
#include <tuple>
#include <utility>

#include "plan/order_parts.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

/// The lowest of the speeds that hold, from place to place, up to where the train can run.
std::vector<SpeedAlong> lowest_along(Placing& placing) {
  std::vector<SpeedHold>& holds = placing.holds;
  std::ranges::stable_sort(holds, {}, &SpeedHold::from_km);
  std::vector<SpeedAlong> speeds;
  // Of several that are as low, the one that holds longest is told.
  const auto rank = [](const SpeedHold& hold) {
    return std::tuple(hold.speed_kmh, hold.yields, -hold.to_km);
  };
  tell_lowest(
      holds, placing.end_km, rank, [&](double from_km, double to_km, const SpeedHold* hold) {
        if (hold == nullptr) {
          return;  // nothing is permitted here
        }
        SpeedAlong* const before = speeds.empty() ? nullptr : &speeds.back();
        if (before != nullptr && before->to_km == from_km && before->speed_kmh == hold->speed_kmh &&
            before->piece == hold->piece && before->because == hold->because) {
          before->to_km = to_km;
          return;
        }
        speeds.push_back({.from_km = from_km,
                          .to_km = to_km,
                          .speed_kmh = hold->speed_kmh,
                          .piece = hold->piece,
                          .because = hold->because,
                          .rule = hold->rule,
                          .of_piece = hold->of_piece});
      });
  return speeds;
}

/// Neighbours with one speed.
struct SameSpeed {
  std::vector<SpeedAlong> parts;  ///< at least one

  double from_km() const { return parts.front().from_km; }
  double to_km() const { return parts.back().to_km; }
  double speed_kmh() const { return parts.front().speed_kmh; }
};

/// The speed that the train reaches on so many metres, if it comes with one speed, the driver takes
/// the time to react, and it leaves with another.
double reached_kmh(const Placing& placing, double length_m, double from_kmh, double to_kmh) {
  const double room_m = std::max(0.0, length_m - placing.times.reaction_s * from_kmh / 3.6);
  return 3.6 * reachable_ms(placing.planning.request->train, room_m, from_kmh / 3.6, to_kmh / 3.6);
}

/// Whether the stretch is faster than its neighbours, and the train could not make use of it.
bool is_useless(const Placing& placing, const SameSpeed& before, const SameSpeed& faster,
                const SameSpeed& after) {
  const double lower_kmh = std::max(before.speed_kmh(), after.speed_kmh());
  return placing.times.least_gain_kmh > 0 && before.to_km() == faster.from_km() &&
         faster.to_km() == after.from_km() && lower_kmh < faster.speed_kmh() &&
         reached_kmh(placing, 1000 * (faster.to_km() - faster.from_km()), before.speed_kmh(),
                     after.speed_kmh()) <
             std::min(faster.speed_kmh(), lower_kmh + placing.times.least_gain_kmh);
}

/// A higher speed between two lower ones that the train could not make use of is not ordered: the
/// higher of the two holds there too.
std::vector<SpeedAlong> useful(const Placing& placing, const std::vector<SpeedAlong>& speeds) {
  std::vector<SameSpeed> kept;
  const auto push = [&](SameSpeed next) {
    while (kept.size() > 1 && is_useless(placing, kept[kept.size() - 2], kept.back(), next)) {
      const SameSpeed faster = std::move(kept.back());
      kept.pop_back();
      const bool goes_on = kept.back().speed_kmh() >= next.speed_kmh();
      SpeedAlong bridge = goes_on ? kept.back().parts.back() : next.parts.front();
      bridge.from_km = faster.from_km();
      bridge.to_km = faster.to_km();
      bridge.of_piece = false;
      bridge.rule = rule_id(placing, RuleKind::driver_times);
      bridge.because = placing.planning.words().say(
          "{:g} km/h is permitted here, but only for {:.0f} m", faster.speed_kmh(),
          1000 * (faster.to_km() - faster.from_km()));
      if (goes_on) {
        kept.back().parts.push_back(std::move(bridge));
      } else {
        next.parts.insert(next.parts.begin(), std::move(bridge));
      }
    }
    if (!kept.empty() && kept.back().to_km() == next.from_km() &&
        kept.back().speed_kmh() == next.speed_kmh()) {
      std::ranges::move(next.parts, std::back_inserter(kept.back().parts));
    } else {
      kept.push_back(std::move(next));
    }
  };
  for (std::size_t i = 0; i < speeds.size();) {
    SameSpeed next{{speeds[i]}};
    while (++i < speeds.size() && speeds[i].from_km == next.to_km() &&
           speeds[i].speed_kmh == next.speed_kmh()) {
      next.parts.push_back(speeds[i]);
    }
    push(std::move(next));
  }
  std::vector<SpeedAlong> all;
  for (SameSpeed& same : kept) {
    std::ranges::move(same.parts, std::back_inserter(all));
  }
  return all;
}

/// What holds on a piece for the whole train, whatever is up: the line speed, or a restriction
/// below it.
struct HeldSpeed {
  double speed_kmh = std::numeric_limits<double>::infinity();
  std::string because;
  std::string rule;
};

HeldSpeed held_on(const Placing& placing, const Section& section, const Ground& ground) {
  const Words& words = placing.planning.words();
  const double line_kmh = section.line_speed_kmh;
  HeldSpeed held{.speed_kmh = line_kmh,
                 .because = words.say("line speed {:g} km/h", line_kmh),
                 .rule = rule_id(placing, RuleKind::line_speed)};
  for (const Rule* const rule : ground.asked_lowered) {
    const auto speed_kmh = rule->kind == RuleKind::speed_restriction ? number_of(*rule, "speed_kmh")
                                                                     : std::optional<double>();
    if (speed_kmh && *speed_kmh < held.speed_kmh) {
      held = {.speed_kmh = *speed_kmh,
              .because = rule->only_for.empty()
                             ? words.say("speed restriction {:g} km/h", *speed_kmh)
                             : words.say("speed restriction {:g} km/h, {}", *speed_kmh,
                                         only_for_words(rule->only_for, words)),
              .rule = rule->id};
    }
  }
  return held;
}

HeldSpeed held_on(const Placing& placing, std::size_t piece) {
  return held_on(placing, placing.planning.section(piece), placing.planning.ground(piece));
}

/// What holds for the whole train on a section behind the front at departure. Records count where
/// a pantograph is under them, which is judged with the piece; ice has no place of its own there,
/// and its speed is held as if the train had come from it.
HeldSpeed held_behind(const Placing& placing, const Section& section, double from_km,
                      double to_km) {
  const PlanningCase& planning = placing.planning;
  const Judge& judge = planning.judge(0);
  HeldSpeed held = held_on(placing, section, judge.ground(section, false));
  const bool iced = std::ranges::any_of(
      planning.request->conditions.ice,
      [&](const IceStretch& ice) { return ice.from_km < to_km && ice.to_km > from_km; });
  if (iced) {
    std::vector<Finding> findings;
    const Verdict verdict =
        judge.judge(judge.ground(section, true), placing.set_on(0), {}, &findings);
    const Finding* const deciding = deciding_finding(verdict, findings);
    if (deciding != nullptr && verdict.speed_kmh < held.speed_kmh) {
      held = {.speed_kmh = verdict.speed_kmh, .because = deciding->reason, .rule = deciding->rule};
    }
  }
  return held;
}

/// A train that departs from within the route has some of its length under other wire than its
/// front, and holds the speed of that until it is out of it, as if it had come from there.
void hold_under_rest_at_departure(Placing& placing) {
  const PlanningCase& planning = placing.planning;
  const Route& route = planning.request->route;
  if (!route.departs_km || placing.reached == 0) {
    return;
  }
  const double departs_km = *route.departs_km;
  const Leg& leg = planning.pieces.front().leg;
  const double length_km = planning.judges[0].train().layout.length_m / 1000;
  const double rear_km = departs_km - length_km;
  const auto hold = [&](const HeldSpeed& held, double to_km) {
    placing.holds.push_back(
        {.from_km = departs_km,
         .to_km = to_km,
         .speed_kmh = held.speed_kmh,
         .piece = 0,
         .because = planning.words().say("{} under the rest of the train", held.because),
         .rule = held.rule,
         .yields = true});
  };
  for (const Section& section : route.sections) {
    const double from_km =
        std::max({section.from_km, rear_km, leg.turned ? leg.start_km : rear_km});
    const double to_km = std::min(section.to_km, departs_km);
    if (from_km < to_km && section.to_km <= departs_km) {
      hold(held_behind(placing, section, from_km, to_km), section.to_km + length_km);
    }
    if (leg.turned && rear_km < leg.start_km && section.from_km < leg.start_km &&
        section.to_km > leg.start_km - length_km) {
      hold(held_on(placing, section, planning.judge(0).ground(section, false)),
           leg.start_km + length_km);
    }
  }
}

}  // namespace

std::string rule_id(const Placing& placing, RuleKind kind) {
  // The speeds for lowering and raising hold also where changing there is off.
  const std::vector<Rule>& rules = placing.planning.request->rules.rules;
  const auto rule = std::ranges::find(rules, kind, &Rule::kind);
  return rule == rules.end() ? std::string() : rule->id;
}

/// Speeds of the pieces hold until the whole train is out of them; a train that has turned round
/// stands with its new front at the border, and its length does not count.
void hold_speeds(Placing& placing) {
  const PlanningCase& planning = placing.planning;
  const double length_km = planning.judges[0].train().layout.length_m / 1000;
  for (std::size_t i = 0; i < placing.reached; ++i) {
    double until = planning.pieces[i].to_km + length_km;
    for (std::size_t j = i + 1; j < planning.pieces.size() && planning.pieces[j].from_km < until;
         ++j) {
      if (planning.pieces[j].entered_reversed) {
        until = planning.pieces[j].from_km;
      }
    }
    SpeedHold hold{
        .from_km = planning.pieces[i].from_km, .to_km = until, .piece = i, .of_piece = true};
    if (planning.pieces[i].lowered) {
      // The speed with pantographs down is held where they are; the line's, over the whole train.
      HeldSpeed held = held_on(placing, i);
      hold.speed_kmh = held.speed_kmh;
      hold.because = std::move(held.because);
      hold.rule = std::move(held.rule);
      hold.yields = true;
    } else {
      hold.speed_kmh = planning.judge(i).judge(planning.ground(i), placing.set_on(i), {}).speed_kmh;
    }
    placing.holds.push_back(std::move(hold));
  }
  placing.holds_of_pieces = placing.holds.size();
  // A train that has turned round leaves the sections that it stands on once more.
  for (std::size_t i = 0; i < placing.reached; ++i) {
    if (!planning.pieces[i].entered_reversed) {
      continue;
    }
    const double stand_km = planning.pieces[i].from_km;
    HeldSpeed lowest;
    for (std::size_t j = i; j-- > 0 && planning.pieces[j].to_km > stand_km - length_km;) {
      HeldSpeed held = held_on(placing, j);
      if (held.speed_kmh < lowest.speed_kmh) {
        lowest = std::move(held);
      }
    }
    placing.holds.push_back(
        {.from_km = stand_km,
         .to_km = stand_km + length_km,
         .speed_kmh = lowest.speed_kmh,
         .piece = i,
         .because = planning.words().say("{} under the rest of the train", lowest.because),
         .rule = lowest.rule,
         .yields = true});
  }
  hold_under_rest_at_departure(placing);
}

double highest_held_kmh(const Placing& placing, double from_km, double to_km) {
  const std::vector<SpeedHold>& holds = placing.holds;
  const double length_km = placing.planning.judges[0].train().layout.length_m / 1000;
  std::vector<const SpeedHold*> near;
  std::vector<double> places{from_km};
  for (auto hold = std::upper_bound(
           holds.begin(), holds.begin() + static_cast<std::ptrdiff_t>(placing.holds_of_pieces),
           to_km, [](double km, const SpeedHold&other) { return km < other.from_km; });
       hold != holds.begin();) {
    --hold;
    if (placing.planning.pieces[hold->piece].to_km + length_km < from_km) {
      break;
    }
    near.push_back(&*hold);
    for (const double km : {hold->from_km, hold->to_km}) {
      if (km > from_km && km < to_km) {
        places.push_back(km);
      }
    }
  }
  double highest = 0;
  for (const double km : places) {
    double lowest = std::numeric_limits<double>::infinity();
    for (const SpeedHold* const hold : near) {
      if (hold->from_km <= km && hold->to_km > km) {
        lowest = std::min(lowest, hold->speed_kmh);
      }
    }
    highest = std::max(highest,
                       std::min(lowest, highest_line_kmh(placing.planning.request->route, km, km)));
  }
  return highest;
}

void order_speeds(Placing& placing) {
  std::vector<SpeedAlong> speeds = useful(placing, lowest_along(placing));
  double ordered = 0;
  double until_km = placing.planning.pieces.front().from_km;
  for (const SpeedAlong& along : speeds) {
    // Behind a gap, the next speed is ordered anew.
    ordered = along.from_km > until_km ? 0 : ordered;
    until_km = along.to_km;
    if (along.speed_kmh == ordered) {
      continue;
    }
    // Pantographs are lowered and raised at the lower speed: it comes before what else is ordered
    // at the same place. Orders of one place stay as they stand here.
    std::vector<Order>& all = placing.orders.all;
    all.insert(along.speed_kmh < ordered ? all.begin() : all.end(), {.at_km = along.from_km,
                                                                     .action = Action::speed,
                                                                     .piece = along.piece,
                                                                     .speed_kmh = along.speed_kmh,
                                                                     .because = along.because});
    ordered = along.speed_kmh;
  }
  placing.orders.speeds = std::move(speeds);
}

}  // namespace panup
