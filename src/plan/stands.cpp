#include "plan/stands.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "checks/current.h"

namespace panup {

namespace {

/// A stand, as its neighbourhood on the way.
struct Stand {
  std::size_t entered = 0;  ///< piece behind it; their number on arrival
  std::size_t ground = 0;   ///< piece whose line the train stands under
  double at_km = 0;
  std::string where;  ///< "at departure", "at the stop Mosk", "on arrival"
  PantographSet up = 0;
  PantographSet after = 0;
};

PantographSet up_on(const PlanningCase& planning, const Way& way, std::size_t piece) {
  return planning.pieces[piece].lowered || way.raised[piece] == blocked_set ? 0 : way.raised[piece];
}

std::vector<Stand> stands_of(const PlanningCase& planning, const Way& way) {
  std::vector<Stand> stands;
  const std::size_t count = planning.pieces.size();
  const PantographSet at_first = up_on(planning, way, 0);
  stands.push_back({.entered = 0,
                    .ground = 0,
                    .at_km = planning.pieces.front().from_km,
                    .where = "at departure",
                    .up = at_first,
                    .after = at_first});
  for (std::size_t i = 1; i < count; ++i) {
    const Piece& piece = planning.pieces[i];
    if (piece.entry == Passage::standstill) {
      stands.push_back({.entered = i,
                        .ground = i - 1,
                        .at_km = piece.from_km,
                        .where = "at the stop " + piece.entry_place,
                        .up = up_on(planning, way, i - 1),
                        .after = up_on(planning, way, i)});
    }
  }
  const PantographSet at_last = up_on(planning, way, count - 1);
  stands.push_back({.entered = count,
                    .ground = count - 1,
                    .at_km = planning.pieces.back().to_km,
                    .where = "on arrival",
                    .up = at_last,
                    .after = at_last});
  return stands;
}

/// A vehicle at a stand.
struct Standing {
  const PlanningCase& planning;
  const CurrentRules& rules;
  const Stand& stand;
  const RunningVehicle& vehicle;
  Demand demand;

  const RunningTrain& train() const { return planning.judge(stand.ground).train(); }

  double carried_a(PantographSet up) const {
    std::vector<double> limits_a;
    for (std::size_t bit = 0; bit < train().pantographs.size(); ++bit) {
      if ((up >> bit & 1U) != 0) {
        limits_a.push_back(standstill_limit_a(*train().pantographs[bit].type,
                                              planning.section(stand.ground), rules));
      }
    }
    return carried_together_a(limits_a, rules);
  }
};

/// What of the vehicle may be raised beside what is up, so that it carries most, one after the
/// other until it is enough; nothing if it never is.
PantographSet help_for(const Standing& standing, PantographSet up, PantographSet defective) {
  const Ground& ground = standing.planning.ground(standing.stand.ground);
  if (!ground.separations.empty()) {
    return 0;
  }
  const PantographSet own = standing.vehicle.all & ground.fit & ~defective;
  PantographSet with = up;
  while (standing.carried_a(with) < standing.demand.current_a) {
    PantographSet best = with;
    for (const int bit : standing.train().front_first) {
      const PantographSet more = with | PantographSet{1} << bit;
      if ((own >> bit & 1U) != 0 && standing.carried_a(more) > standing.carried_a(best)) {
        best = more;
      }
    }
    if (best == with) {
      return 0;
    }
    with = best;
  }
  return with & ~up;
}

std::string power_words(const Demand& demand) {
  return demand.computed ? fmt::format(" ({:.0f} kW at {:.0f} V, the lowest permanent voltage)",
                                       demand.power_kw, demand.voltage_v)
                         : std::string();
}

void check(const Standing& standing, PantographSet defective, Stands& stands) {
  const Stand& stand = standing.stand;
  const RunningTrain& train = standing.train();
  const PantographSet up = stand.up & standing.vehicle.all;
  const double carried_a = standing.carried_a(up);
  if (standing.demand.current_a <= carried_a) {
    return;
  }
  const std::string draws = fmt::format(
      "{} {} draws {:.0f} A{}; {} may carry {:.0f} A.", name_of(standing.vehicle), stand.where,
      standing.demand.current_a, power_words(standing.demand), list_of(train, up), carried_a);
  std::string text;
  const PantographSet after = stand.after & standing.vehicle.all;
  const PantographSet help = help_for(standing, up, defective);
  if (after != up && standing.carried_a(after) >= standing.demand.current_a) {
    text = fmt::format("{} Change to {} on arrival, before it draws more.", draws,
                       list_of(train, after));
  } else if (help != 0) {
    text = fmt::format(
        "{} {} goes up as well while it stands, and comes down before it departs: spacing is for "
        "running, and not looked at here.",
        draws, list_of(train, help));
    stands.helps.push_back(
        {.piece = stand.entered,
         .raised = help,
         .because = fmt::format("for the stand alone, {:.0f} A", standing.demand.current_a)});
  } else {
    text = fmt::format("{} {}: draw no more than that, switch off heating or other loads.", draws,
                       standing.planning.ground(stand.ground).separations.empty()
                           ? "No further pantograph of it helps"
                           : "It stands over a separation section, where nothing more is raised");
  }
  const Rule& rule = *standing.rules.standstill;
  stands.findings.push_back({.at_km = stand.at_km,
                             .piece = stand.ground,
                             .finding = {.rule = rule.id,
                                         .strength = Strength::prescribed,
                                         .standing = rule.standing,
                                         .text = std::move(text),
                                         .source = rule.source}});
}

}  // namespace

Stands check_stands(const PlanningCase& planning, const Way& way, PantographSet defective) {
  Stands stands;
  const CurrentRules rules = current_rules(planning.request->rules);
  if (rules.standstill == nullptr) {
    return stands;
  }
  std::set<std::string> unknown;
  for (const Stand& stand : stands_of(planning, way)) {
    const auto& supply = planning.section(stand.ground).supply;
    for (const RunningVehicle& vehicle : planning.judge(stand.ground).train().vehicles) {
      if (!supply || (stand.up & vehicle.all) == 0) {
        continue;
      }
      const auto demand = standstill_demand(*vehicle.vehicle, *supply, rules);
      if (demand) {
        check({planning, rules, stand, vehicle, *demand}, defective, stands);
      } else {
        unknown.insert(fmt::format("{} on {}", name_of(vehicle), name_of(*supply)));
      }
    }
  }
  if (!unknown.empty()) {
    stands.notes.push_back(
        fmt::format("Not stated: what is drawn at a stand ({}). Current at a stand is not checked "
                    "there.",
                    fmt::join(unknown, ", ")));
  }
  return stands;
}

}  // namespace panup
