#include "judging/current_rule.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "judging/judge_parts.h"
#include "judging/prepared_rules.h"

namespace panup {

namespace {

const PantographType& type_of(const RunningTrain& train, std::size_t p) {
  return *train.pantographs[p].type;
}

std::vector<double> limits_of(const RunningTrain& train, PantographSet set, EnergySupply supply,
                              const CurrentRules& rules) {
  std::vector<double> limits_a;
  for (const std::size_t p : set) {
    limits_a.push_back(running_limit_a(type_of(train, p), supply, rules));
  }
  return limits_a;
}

double carried_by(const RunningTrain& train, PantographSet set, EnergySupply supply,
                  const CurrentRules& rules) {
  double weakest_a = std::numeric_limits<double>::infinity();
  for (const std::size_t p : set) {
    weakest_a = std::min(weakest_a, running_limit_a(type_of(train, p), supply, rules));
  }
  return set.empty() ? 0 : weakest_a / most_loaded_share(set.size(), rules);
}

/// A vehicle that draws current, in a configuration.
struct Drawing {
  const JudgedCase& judged;
  const RunningVehicle& vehicle;
  const CurrentRules& rules;
  Demand demand;
  PantographSet up;
  double carried_a = 0;
};

/// " With 1.1 up as well it may draw 2727 A.", or that none helps.
std::string words_for_one_more(const Drawing& drawing) {
  const RunningTrain& train = drawing.judged.train;
  const PantographSet others =
      (drawing.vehicle.all & drawing.judged.fit) - drawing.judged.defective - drawing.up;
  double best_a = drawing.carried_a;
  PantographSet best;
  for (const std::size_t p : others) {
    const double with_a =
        carried_by(train, drawing.up.with(p), *drawing.judged.section.supply, drawing.rules);
    if (with_a > best_a) {
      best_a = with_a;
      best = {p};
    }
  }
  if (best.empty()) {
    return " One more pantograph does not help: none that is left fits here and carries more.";
  }
  return fmt::format(" With {} up as well it may draw {:.0f} A.", list_of(train, best), best_a);
}

std::string words_for_power(const Drawing& drawing) {
  const auto power_kw = power_allowed_kw(*drawing.vehicle.vehicle, *drawing.judged.section.supply,
                                         drawing.carried_a, drawing.rules);
  return power_kw && drawing.demand.computed
             ? fmt::format(": no more than {:.0f} kW at the wheels at that voltage", *power_kw)
             : std::string();
}

std::string words_for(const Drawing& drawing) {
  const std::string up = list_of(drawing.judged.train, drawing.up);
  const bool enough = drawing.demand.current_a <= drawing.carried_a;
  const std::string draws =
      drawing.demand.computed
          ? fmt::format(
                "{} draws {:.0f} A at full power and {:.0f} V, the lowest permanent voltage",
                name_of(drawing.vehicle), drawing.demand.current_a, drawing.demand.voltage_v)
          : fmt::format("{} draws {:.0f} A", name_of(drawing.vehicle), drawing.demand.current_a);
  return fmt::format("{}; {} may carry {:.0f} A{}.{}", draws, up, drawing.carried_a,
                     enough ? std::string() : words_for_power(drawing),
                     enough ? std::string() : words_for_one_more(drawing));
}

/// Rounded down: what is ordered is never more than what is permitted.
int percent_of(double part, double whole) {
  return static_cast<int>(std::floor(100 * part / whole));
}

void judge_vehicle(const Rule& rule, const Drawing& drawing, Opinion& opinion) {
  const auto text = [&] { return words_for(drawing); };
  if (drawing.demand.current_a > drawing.carried_a) {
    if (drawing.demand.computed) {
      opinion.verdict.missing_current_a +=
          static_cast<std::int64_t>(std::ceil(drawing.demand.current_a - drawing.carried_a));
      opinion.say(rule, Strength::prescribed, text);
      if (opinion.explains()) {
        opinion.findings->back().kept = false;
      }
    } else {
      opinion.forbid(rule, text);
    }
    return;
  }
  if (!opinion.explains() || drawing.up.size() < 2) {
    return;
  }
  const auto limits_a =
      limits_of(drawing.judged.train, drawing.up, *drawing.judged.section.supply, drawing.rules);
  if (drawing.demand.current_a > *std::ranges::max_element(limits_a)) {
    opinion.say_kept(rule, text);
  }
}

/// What the vehicle draws in the configuration; nothing where that is not known.
std::optional<Demand> demand_of(const JudgedCase& judged, const RunningVehicle& vehicle) {
  if (!judged.section.supply || !judged.raised.intersects(vehicle.all)) {
    return std::nullopt;
  }
  return running_demand(*vehicle.vehicle, *judged.section.supply, judged.prepared.current);
}

}  // namespace

void judge_current_per_pantograph(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (opinion.verdict.forbidden && !opinion.explains()) {
    return;
  }
  const CurrentRules& rules = judged.prepared.current;
  for (const RunningVehicle& vehicle : judged.train.vehicles) {
    if (const auto demand = demand_of(judged, vehicle)) {
      const PantographSet up = judged.raised & vehicle.all;
      judge_vehicle(rule,
                    {.judged = judged,
                     .vehicle = vehicle,
                     .rules = rules,
                     .demand = *demand,
                     .up = up,
                     .carried_a = carried_by(judged.train, up, *judged.section.supply, rules)},
                    opinion);
    }
  }
}

void judge_train_current(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (!opinion.explains()) {
    return;  // it decides nothing
  }
  double sum_a = 0;
  for (const RunningVehicle& vehicle : judged.train.vehicles) {
    const auto demand = demand_of(judged, vehicle);
    sum_a += demand ? demand->current_a : 0;
  }
  if (sum_a <= 0) {
    return;
  }
  const auto& limit_a = judged.section.greatest_train_current_a;
  if (!limit_a) {
    opinion.say(rule, Strength::note, [&] {
      return fmt::format(
          "The train would draw {:.0f} A; the section states no greatest train current: ask for "
          "it.",
          sum_a);
    });
  } else if (sum_a > *limit_a) {
    opinion.say(rule, Strength::note, [&] {
      return fmt::format(
          "The train would draw {:.0f} A; no more than {:.0f} A may be drawn here: limit the power "
          "to {} % of it.",
          sum_a, *limit_a, percent_of(*limit_a, sum_a));
    });
  }
}

std::size_t pantographs_for_current(const RunningTrain& train, const RunningVehicle& vehicle,
                                    PantographSet usable, EnergySupply supply,
                                    const CurrentRules& rules) {
  const std::vector<double> limits_a = limits_of(train, usable & vehicle.all, supply, rules);
  const auto demand = running_demand(*vehicle.vehicle, supply, rules);
  if (rules.per_pantograph == nullptr || !demand || limits_a.empty()) {
    return 1;
  }
  // By the weakest: a set of so many carries the current whichever they are.
  const std::vector<double> weakest(limits_a.size(), *std::ranges::min_element(limits_a));
  for (std::size_t count = 1; count <= weakest.size(); ++count) {
    if (carried_together_a({weakest.begin(), weakest.begin() + static_cast<std::ptrdiff_t>(count)},
                           rules) >= demand->current_a) {
      return count;
    }
  }
  return weakest.size();
}

std::vector<PowerLimit> power_limits(const RuleBook& rules, const RunningTrain& train,
                                     const LineProperties& section, PantographSet raised) {
  std::vector<PowerLimit> limits;
  if (!section.supply) {
    return limits;
  }
  const CurrentRules current = current_rules(rules);
  double sum_a = 0;
  for (const RunningVehicle& vehicle : train.vehicles) {
    const PantographSet up = raised & vehicle.all;
    const auto demand =
        up.empty() ? std::nullopt : running_demand(*vehicle.vehicle, *section.supply, current);
    if (!demand) {
      continue;
    }
    sum_a += demand->current_a;
    const double carried_a = carried_by(train, up, *section.supply, current);
    if (current.per_pantograph == nullptr || !demand->computed || demand->current_a <= carried_a) {
      continue;
    }
    const auto allowed_kw = power_allowed_kw(*vehicle.vehicle, *section.supply, carried_a, current);
    limits.push_back({.vehicle = vehicle.number,
                      .percent = allowed_kw && demand->power_kw > 0
                                     ? percent_of(*allowed_kw, demand->power_kw)
                                     : percent_of(carried_a, demand->current_a),
                      .because = fmt::format("{} {} no more than {:.0f} A", list_of(train, up),
                                             up.size() == 1 ? "carries" : "carry", carried_a)});
  }
  if (current.train != nullptr && section.greatest_train_current_a &&
      sum_a > *section.greatest_train_current_a) {
    limits.insert(limits.begin(),
                  {.vehicle = 0,
                   .percent = percent_of(*section.greatest_train_current_a, sum_a),
                   .because = fmt::format("no more than {:.0f} A may be drawn by the train",
                                          *section.greatest_train_current_a)});
  }
  return limits;
}

CurrentLoads current_loads(const RuleBook& rules, const RunningTrain& train,
                           const LineProperties& section, PantographSet raised) {
  CurrentLoads loads;
  loads.train_limit_a = section.greatest_train_current_a;
  if (!section.supply) {
    loads.complete = false;
    return loads;
  }
  const CurrentRules in_force = current_rules(rules);
  loads.train_rule = in_force.train == nullptr ? std::string() : in_force.train->id;
  for (const RunningVehicle& vehicle : train.vehicles) {
    const PantographSet up = raised & vehicle.all;
    if (up.empty()) {
      continue;
    }
    const auto demand = running_demand(*vehicle.vehicle, *section.supply, in_force);
    if (!demand) {
      loads.complete = false;
      continue;
    }
    loads.train_a += demand->current_a;
    const double share = most_loaded_share(up.size(), in_force);
    for (const std::size_t p : train.front_first) {
      if (up.contains(p)) {
        const PlacedPantograph& placed = train.pantographs[p];
        loads.pantographs.push_back(
            {.ref = placed.ref,
             .greatest_a = share * demand->current_a,
             .limit_a = running_limit_a(*placed.type, *section.supply, in_force),
             .rule =
                 in_force.per_pantograph == nullptr ? std::string() : in_force.per_pantograph->id});
      }
    }
  }
  return loads;
}

}  // namespace panup
