#include "plan/stand_current.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "judging/current.h"

namespace panup {

namespace {

/// A vehicle at a stand.
struct StandingVehicle {
  const PlanningCase& planning;
  const CurrentRules& rules;
  const Stand& stand;
  const RunningVehicle& vehicle;
  Demand demand;

  const RunningTrain& train() const { return planning.judge(stand.ground).train(); }

  /// At departure some of the train may stand under another section.
  const Section& section_over(std::size_t p) const {
    if (stand.kind == StandKind::departure) {
      for (const Judge::Behind& behind : behind_at(planning, stand.ground, stand.at_km)) {
        if (behind.under.contains(p)) {
          return *behind.section;
        }
      }
    }
    return planning.section(stand.ground);
  }

  double carried_a(PantographSet up) const {
    std::vector<double> limits_a;
    for (const std::size_t p : up) {
      limits_a.push_back(standstill_limit_a(*train().pantographs[p].type, section_over(p), rules));
    }
    return carried_together_a(limits_a, rules);
  }
};

/// Whether `more` makes a facing pair that is not there with what is up, or exposes another load:
/// dust and sparks fall at a stand too, and the pair rises and comes down within reach of itself.
bool costs_pair_or_load(const StandingVehicle& standing, PantographSet more) {
  const Judge& judge = standing.planning.judge(standing.stand.ground);
  const Ground& ground = standing.planning.ground(standing.stand.ground);
  const Verdict now = judge.judge(ground, standing.stand.up, {});
  const Verdict then = judge.judge(ground, more, {});
  return then.facing_pairs > now.facing_pairs || then.exposed_dangerous > now.exposed_dangerous ||
         then.exposed_sensitive > now.exposed_sensitive;
}

/// What of the vehicle may be raised beside what is up, so that it carries most, one after the
/// other until it is enough; nothing if it never is. `helped`: what goes up on other vehicles.
PantographSet help_for(const StandingVehicle& standing, PantographSet up, PantographSet helped,
                       PantographSet defective) {
  const Ground& ground = standing.planning.ground(standing.stand.ground);
  if (!ground.separations.empty()) {
    return {};
  }
  const PantographSet own = (standing.vehicle.all & ground.fit) - defective;
  const PantographSet others = standing.stand.up | helped;
  PantographSet with = up;
  while (standing.carried_a(with) < standing.demand.current_a) {
    PantographSet best = with;
    for (const std::size_t p : standing.train().front_first) {
      const PantographSet more = with.with(p);
      if (own.contains(p) && standing.carried_a(more) > standing.carried_a(best) &&
          !costs_pair_or_load(standing, others | more)) {
        best = more;
      }
    }
    if (best == with) {
      return {};
    }
    with = best;
  }
  return with - up;
}

std::string demand_words(const Demand& demand, const Words& words) {
  return demand.computed ? words.say(" ({:.0f} kW at {:.0f} V, the lowest permanent voltage)",
                                     demand.power_kw, demand.voltage_v)
                         : std::string();
}

/// `helped`: what goes up on other vehicles at this stand; the vehicle's own is added.
void judge(const StandingVehicle& standing, PantographSet defective, PantographSet& helped,
           StandCurrents& found) {
  const Stand& stand = standing.stand;
  const RunningTrain& train = standing.train();
  const PantographSet up = stand.up & standing.vehicle.all;
  const double carried_a = standing.carried_a(up);
  if (standing.demand.current_a <= carried_a) {
    return;
  }
  const Words& words = train.words;
  const std::string draws =
      words.say_of(up.size(), "{0} {1} draws {2:.0f} A{3}; {4} may carry {5:.0f} A.",
                   "{0} {1} draws {2:.0f} A{3}; {4} may carry {5:.0f} A.",
                   name_of(standing.vehicle), where_words(stand, words), standing.demand.current_a,
                   demand_words(standing.demand, words), list_of(train, up), carried_a);
  const auto limit = [&](std::string because) {
    found.limits.push_back({.at_km = stand.at_km,
                            .piece = stand.ground,
                            .vehicle = standing.vehicle.number,
                            .current_a = carried_a,
                            .because = std::move(because)});
  };
  std::string text;
  const PantographSet after = stand.leaves & standing.vehicle.all;
  const PantographSet help = help_for(standing, up, helped, defective);
  if (after != up && standing.carried_a(after) >= standing.demand.current_a) {
    text = words.say("{} Change to {} on arrival, before it draws more.", draws,
                     list_of(train, after));
    limit(words.say("until the change to {}", list_of(train, after)));
  } else if (!help.empty()) {
    helped |= help;
    text = words.say(
        "{} {} goes up as well while it stands, and comes down before it departs: spacing is for "
        "running, and not looked at here.",
        draws, list_of(train, help));
    found.helps.push_back(
        {.piece = stand.entered,
         .raised = help,
         .because = words.say("for the stand alone, {:.0f} A", standing.demand.current_a)});
  } else {
    text =
        standing.planning.ground(stand.ground).separations.empty()
            ? words.say(
                  "{} No further pantograph of it may help: draw no more than that, switch off "
                  "heating or other loads.",
                  draws)
            : words.say(
                  "{} It stands over a separation section, where nothing more is raised: draw no "
                  "more than that, switch off heating or other loads.",
                  draws);
    limit(words.say("switch off heating or other loads"));
  }
  const Rule& rule = *standing.rules.standstill;
  found.findings.push_back(
      {.at_km = stand.at_km, .finding = finding_of(rule, Strength::prescribed, std::move(text))});
}

}  // namespace

StandCurrents check_stand_currents(const PlanningCase& planning, const std::vector<Stand>& stands,
                                   PantographSet defective) {
  StandCurrents found;
  const CurrentRules rules = current_rules(planning.request->rules);
  if (rules.standstill == nullptr) {
    return found;
  }
  std::set<std::string> unknown;
  for (const Stand& stand : stands) {
    const auto& supply = planning.section(stand.ground).supply;
    if (stand.kind == StandKind::signal || !supply) {
      continue;
    }
    PantographSet helped;
    for (const RunningVehicle& vehicle : planning.judge(stand.ground).train().vehicles) {
      if (!stand.up.intersects(vehicle.all)) {
        continue;
      }
      const auto demand = standstill_demand(*vehicle.vehicle, *supply, rules);
      if (demand) {
        judge({planning, rules, stand, vehicle, *demand}, defective, helped, found);
      } else {
        unknown.insert(planning.words().say("{} on {}", name_of(vehicle),
                                            planning.words().named(name_of(*supply))));
      }
    }
  }
  if (!unknown.empty()) {
    found.notes.push_back(planning.words().say(
        "Not stated: what is drawn at a stand ({}). Current at a stand is not checked there.",
        fmt::to_string(fmt::join(unknown, ", "))));
  }
  return found;
}

}  // namespace panup
