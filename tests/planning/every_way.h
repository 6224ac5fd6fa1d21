#pragma once
/// Small routes at random, and a search over all ways along them that shares nothing with the
/// search of the program.

#include <fmt/format.h>

#include <map>
#include <random>

#include "plan/way.h"
#include "scenario.h"

namespace panup::scenario {

/// Search over all subsets of pantographs on every piece and all passages between them, by the
/// definitions of the costs alone: none of the search's shortcuts, none of its limits on which sets
/// are worth considering. What follows on a configuration does not hang on what came before it, so
/// it is looked for once.
struct Exhaustive {
  const PlanningCase& planning;
  std::optional<Forced> forced = {};
  std::map<std::size_t, std::vector<RaisedOrBlocked>> permitted = {};
  std::map<std::pair<std::size_t, RaisedOrBlocked>, std::optional<LadderCost>> least = {};

  const std::vector<RaisedOrBlocked>& permitted_on(std::size_t piece) {
    const auto [found, is_new] = permitted.try_emplace(piece);
    if (is_new) {
      found->second = judged_on(piece);
    }
    return found->second;
  }

  std::vector<RaisedOrBlocked> judged_on(std::size_t piece) const {
    std::size_t raised_on = piece;
    while (raised_on > 0 && planning.pieces[raised_on].lowered) {
      --raised_on;
    }
    std::vector<RaisedOrBlocked> sets;
    if (forced && forced->piece == raised_on) {
      sets.emplace_back(forced->raised);
      if (raised_on != piece) {
        sets.emplace_back(blocked);
      }
      return sets;
    }
    const Judge& judge = planning.judge(raised_on);
    const PantographSet defective = judge.train().defective;
    PantographSet all;
    for (const RunningVehicle& vehicle : judge.train().vehicles) {
      all |= vehicle.all;
    }
    for (const PantographSet set : all.subsets()) {
      if (!judge.judge(planning.ground(raised_on), set, defective).forbidden) {
        sets.push_back(set);
      }
    }
    sets.push_back(blocked);
    return sets;
  }

  LadderCost time_lost(double from_kmh, double to_kmh, double power = 1) const {
    LadderCost cost;
    cost[Rung::time] =
        time_lost_ms(planning.request->train, planning.judges[0].train().layout.length_m, from_kmh,
                     to_kmh, power);
    return cost;
  }

  double speed(std::size_t piece, const RaisedOrBlocked& set) const {
    return timing_speed_kmh(planning, piece, set);
  }

  /// The least cost from the beginning of the piece to the end of the route; nothing where no
  /// passage leads on.
  std::optional<LadderCost> least_from(std::size_t piece, const RaisedOrBlocked& set) {
    const auto known = least.find({piece, set});
    if (known != least.end()) {
      return known->second;
    }
    std::optional<LadderCost> best;
    if (piece + 1 == planning.pieces.size()) {
      best = time_lost(speed(piece, set), 0);
    } else {
      for (const RaisedOrBlocked& next : permitted_on(piece + 1)) {
        const auto passage = passage_cost(planning, piece, set, next);
        const auto rest = passage ? least_from(piece + 1, next) : std::nullopt;
        if (rest && (!best || *passage + *rest < *best)) {
          best = *passage + *rest;
        }
      }
    }
    if (best) {
      *best += piece_cost(planning, piece, set, planning.judges[0].train().defective);
    }
    least[{piece, set}] = best;
    return best;
  }

  /// Nothing where no way leads through what is forced.
  std::optional<LadderCost> search_forced() {
    std::optional<LadderCost> best;
    for (const RaisedOrBlocked& first : permitted_on(0)) {
      const auto rest = least_from(0, first);
      const LadderCost start = time_lost(0, speed(0, first), power_share(planning, 0, first));
      if (rest && (!best || start + *rest < *best)) {
        best = start + *rest;
      }
    }
    return best;
  }

  LadderCost search() { return search_forced().value(); }
};

class RandomCase {
 public:
  explicit RandomCase(unsigned seed) : random_(seed) {}

  Scenario make() {
    Scenario scenario;
    const int kind = pick(5);
    two_systems_ = kind == 4;
    if (kind == 0) {
      scenario.add(four_pantograph_locomotive(true), cab());
    } else if (two_systems_) {
      scenario.add(one_for_each_system_locomotive(), cab());
    } else {
      scenario.add(one_with_power(), cab());
      if (kind > 1) {
        scenario.add(one_with_power(), cab());
      }
    }
    scenario.load(static_cast<LoadNature>(pick(3)));
    if (!two_systems_ && pick(2) == 0) {
      scenario.defect({1, 1 + pick(2)});
    }
    sections(scenario);
    places(scenario);
    return scenario;
  }

 private:
  int pick(int below) { return static_cast<int>(random_() % static_cast<unsigned>(below)); }
  /// Every second one asks for more current than one pantograph carries.
  std::shared_ptr<const VehicleType> one_with_power() {
    auto type =
        std::make_shared<VehicleType>(*locomotive({.strips = 1 + pick(2), .frame = frame()}));
    if (pick(2) == 0) {
      PowerOnSupply on{};
      on.supply = EnergySupply::ac_15kv;
      on.power_kw = 7000 + 1000 * pick(4);
      type->power = {on};
    }
    return type;
  }
  Cab cab() { return pick(2) == 0 ? Cab::cab1 : Cab::cab2; }
  PantographFrame frame() {
    return pick(4) == 0 ? PantographFrame::diamond : PantographFrame::single_arm;
  }

  void sections(Scenario& scenario) {
    auto& all = scenario.request.route.sections;
    const Section model = all.front();
    all.clear();
    double km = 0;
    for (int i = 0; i < 3; ++i) {
      Section section = model;
      section.id = fmt::format("s{}", i);
      section.from_km = km;
      km += 0.3 + pick(40) / 10.0;
      section.to_km = km;
      section.line_speed_kmh = 40 + 20 * pick(7);
      section.design_type = static_cast<DesignType>(pick(3));
      if (two_systems_ && pick(2) == 0) {
        section.supply = EnergySupply::dc_3kv;
      }
      if (pick(3) == 0) {
        section.records = {{.number = 1 + pick(4), .distance_m = 5.0 + pick(20), .speed_kmh = 80},
                           {.number = 1, .distance_m = 0, .speed_kmh = 120}};
      }
      if (pick(12) == 0) {
        section.permitted_head_widths_mm = {1450};
      }
      if (pick(4) == 0) {
        scenario.request.conditions.ice.push_back({section.from_km, section.to_km});
      }
      all.push_back(section);
    }
  }

  void places(Scenario& scenario) {
    Route& route = scenario.request.route;
    const double border = route.sections[1].from_km;
    const double inside = (route.sections[1].from_km + route.sections[1].to_km) / 2;
    switch (pick(5)) {
      case 0:
        route.stops.push_back({.name = "Stop", .at_km = border, .reversal = false, .place = {}});
        break;
      case 1:
        route.stops.push_back({.name = "Turn", .at_km = inside, .reversal = true, .place = {}});
        break;
      case 2:
        route.landmarks.push_back(
            {.name = "Board", .at_km = border, .change_on_the_move = true, .place = {}});
        break;
      case 3:
        route.lowered.push_back(
            {.name = "Works", .from_km = inside, .to_km = inside + 0.1, .place = {}});
        break;
      default:
        break;
    }
    if (pick(6) == 0) {
      scenario.rule("change-while-lowered").on = false;
    }
    if (pick(3) == 0) {
      scenario.rule("change-at-stop").on = false;
    }
  }

  std::mt19937 random_;
  bool two_systems_ = false;
};

}  // namespace panup::scenario
