#include "judging/current_rule.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "judging/deciding_values.h"
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
  const RunningVehicle* vehicle = nullptr;
  Demand demand;
  PantographSet up;
  double carried_a = 0;  ///< by what is up
  /// Of the demand, what the line lets it draw. A stated demand is a fact, and is not cut.
  double drawn_a = 0;

  bool is_limited() const { return demand.computed && drawn_a > carried_a; }
};

/// What a configuration draws at full power.
struct Drawings {
  std::vector<Drawing> vehicles;  ///< whose demand is known
  double sum_a = 0;               ///< of their demands
  /// Less than `sum_a` only where the line permits no more.
  double permitted_a = 0;
};

Drawings drawings_of(const RunningTrain& train, const LineProperties& section, PantographSet raised,
                     const CurrentRules& rules) {
  Drawings all;
  if (!section.supply) {
    return all;
  }
  for (const RunningVehicle& vehicle : train.vehicles) {
    const PantographSet up = raised & vehicle.all;
    const auto demand =
        up.empty() ? std::nullopt : running_demand(*vehicle.vehicle, *section.supply, rules);
    if (demand) {
      all.vehicles.push_back({.vehicle = &vehicle,
                              .demand = *demand,
                              .up = up,
                              .carried_a = carried_by(train, up, *section.supply, rules),
                              .drawn_a = demand->current_a});
      all.sum_a += demand->current_a;
    }
  }
  all.permitted_a = rules.train != nullptr && section.greatest_train_current_a
                        ? std::min(all.sum_a, *section.greatest_train_current_a)
                        : all.sum_a;
  for (Drawing& drawing : all.vehicles) {
    if (drawing.demand.computed && all.permitted_a < all.sum_a) {
      drawing.drawn_a *= all.permitted_a / all.sum_a;
    }
  }
  return all;
}

/// The power at the wheels that is left to the vehicle, whose demand is computed.
double power_left_kw(const Drawing& drawing, EnergySupply supply, const CurrentRules& rules) {
  const double current_a = std::min(drawing.drawn_a, drawing.carried_a);
  return current_a < drawing.demand.current_a
             ? power_allowed_kw(*drawing.vehicle->vehicle, supply, current_a, rules).value_or(0)
             : drawing.demand.power_kw;
}

/// Of full power, over all vehicles whose demand is computed.
double share_of_power(const Drawings& drawings, EnergySupply supply, const CurrentRules& rules) {
  double full_kw = 0;
  double left_kw = 0;
  for (const Drawing& drawing : drawings.vehicles) {
    if (drawing.demand.computed) {
      full_kw += drawing.demand.power_kw;
      left_kw += power_left_kw(drawing, supply, rules);
    }
  }
  return full_kw > 0 ? left_kw / full_kw : 1;
}

/// " With 1.1 up as well it may draw 2727 A.", or that none helps.
std::string words_for_one_more(const JudgedCase& judged, const Drawing& drawing) {
  const RunningTrain& train = judged.train;
  const PantographSet others = (drawing.vehicle->all & judged.fit) - judged.defective - drawing.up;
  double best_a = drawing.carried_a;
  PantographSet best;
  for (const std::size_t p : others) {
    const double with_a =
        carried_by(train, drawing.up.with(p), *judged.section.supply, judged.prepared.current);
    if (with_a > best_a) {
      best_a = with_a;
      best = {p};
    }
  }
  if (best.empty()) {
    return judged.words().say(
        " One more pantograph does not help: none that is left fits here and carries more.");
  }
  return judged.words().say(" With {} up as well it may draw {:.0f} A.", list_of(train, best),
                            best_a);
}

std::string words_for_power(const JudgedCase& judged, const Drawing& drawing) {
  return drawing.demand.computed
             ? judged.words().say(
                   ": no more than {:.0f} kW at the wheels at that voltage",
                   power_left_kw(drawing, *judged.section.supply, judged.prepared.current))
             : std::string();
}

std::string words_for(const JudgedCase& judged, const Drawing& drawing) {
  const std::string up = list_of(judged.train, drawing.up);
  const bool enough = drawing.drawn_a <= drawing.carried_a;
  std::string draws =
      drawing.demand.computed
          ? judged.words().say(
                "{} draws {:.0f} A at full power and {:.0f} V, the lowest permanent voltage",
                name_of(*drawing.vehicle), drawing.demand.current_a, drawing.demand.voltage_v)
          : judged.words().say("{} draws {:.0f} A", name_of(*drawing.vehicle),
                               drawing.demand.current_a);
  if (drawing.drawn_a < drawing.demand.current_a) {
    draws += judged.words().say(", of which the line permits {:.0f} A", drawing.drawn_a);
  }
  return judged.words().say_of(drawing.up.size(), "{0}; {1} may carry {2:.0f} A{3}.{4}",
                               "{0}; {1} may carry {2:.0f} A{3}.{4}", draws, up, drawing.carried_a,
                               enough ? std::string() : words_for_power(judged, drawing),
                               enough ? std::string() : words_for_one_more(judged, drawing));
}

/// Rounded down: what is ordered is never more than what is permitted.
int percent_of(double part, double whole) {
  return static_cast<int>(std::floor(100 * part / whole));
}

/// What is ordered to a vehicle whose pantographs carry less than it could draw.
int percent_left(const Drawing& drawing, EnergySupply supply, const CurrentRules& rules) {
  return percent_of(power_left_kw(drawing, supply, rules), drawing.demand.power_kw);
}

/// What it draws, and what its raised pantographs carry.
std::vector<DecidingValue> values_of_current(const JudgedCase& judged, const Drawing& drawing) {
  const Vehicle& vehicle = *drawing.vehicle->vehicle;
  std::vector<DecidingValue> values;
  if (drawing.demand.computed) {
    values.push_back(value_of(*vehicle.type, "power", judged.words()));
  } else {
    values.push_back({.of = ValueOf::vehicle,
                      .id = vehicle.id,
                      .key = "current",
                      .source = source_words(vehicle.provenance, "current", judged.words())});
  }
  for (const std::size_t p : judged.raised_front_first) {
    DecidingValue carries = value_of(*judged.train.pantographs[p].type, "supply", judged.words());
    if (drawing.up.contains(p) && std::ranges::find(values, carries) == values.end()) {
      values.push_back(std::move(carries));
    }
  }
  return values;
}

void judge_vehicle(const Rule& rule, const JudgedCase& judged, const Drawing& drawing,
                   Opinion& opinion) {
  const auto text = [&] {
    return FindingWords(words_for(judged, drawing), values_of_current(judged, drawing));
  };
  if (drawing.drawn_a > drawing.carried_a) {
    const bool pulls = drawing.demand.computed &&
                       percent_left(drawing, *judged.section.supply, judged.prepared.current) > 0;
    if (!pulls) {
      opinion.forbid(rule, text);
      return;
    }
    opinion.verdict.missing_current_a +=
        static_cast<std::int64_t>(std::ceil(drawing.drawn_a - drawing.carried_a));
    opinion.say(rule, Strength::prescribed, text);
    if (opinion.explains()) {
      opinion.findings->back().kept = false;
    }
    return;
  }
  if (!opinion.explains() || drawing.up.size() < 2) {
    return;
  }
  const auto limits_a =
      limits_of(judged.train, drawing.up, *judged.section.supply, judged.prepared.current);
  if (drawing.demand.current_a > *std::ranges::max_element(limits_a)) {
    opinion.say_kept(rule, text);
  }
}

}  // namespace

void judge_current_per_pantograph(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (opinion.verdict.forbidden && !opinion.explains()) {
    return;
  }
  const CurrentRules& rules = judged.prepared.current;
  const Drawings drawings = drawings_of(judged.train, judged.section, judged.raised, rules);
  for (const Drawing& drawing : drawings.vehicles) {
    judge_vehicle(rule, judged, drawing, opinion);
  }
  if (!drawings.vehicles.empty()) {
    opinion.verdict.power_share = share_of_power(drawings, *judged.section.supply, rules);
  }
}

void judge_train_current(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (!opinion.explains()) {
    return;  // what it leaves of the demand is reckoned with above
  }
  const double sum_a =
      drawings_of(judged.train, judged.section, judged.raised, judged.prepared.current).sum_a;
  if (sum_a <= 0) {
    return;
  }
  const auto& limit_a = judged.section.greatest_train_current_a;
  if (!limit_a) {
    opinion.say(rule, Strength::note, [&] {
      return judged.words().say(
          "The train would draw {:.0f} A; the section states no greatest train current: ask for "
          "it.",
          sum_a);
    });
  } else if (sum_a > *limit_a) {
    opinion.say(rule, Strength::note, [&] {
      return FindingWords(
          judged.words().say("The train would draw {:.0f} A; no more than {:.0f} A may be drawn "
                             "here: limit the power to {} % of it.",
                             sum_a, *limit_a, percent_of(*limit_a, sum_a)),
          {value_of_section(judged, "greatest_train_current_a")});
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
  const CurrentRules current = current_rules(rules);
  const Drawings drawings = drawings_of(train, section, raised, current);
  if (drawings.permitted_a < drawings.sum_a) {
    limits.push_back({.vehicle = 0,
                      .percent = percent_of(drawings.permitted_a, drawings.sum_a),
                      .because = train.words.say("no more than {:.0f} A may be drawn by the train",
                                                 drawings.permitted_a)});
  }
  for (const Drawing& drawing : drawings.vehicles) {
    if (current.per_pantograph != nullptr && drawing.is_limited()) {
      limits.push_back(
          {.vehicle = drawing.vehicle->number,
           .percent = percent_left(drawing, *section.supply, current),
           .because = train.words.say_of(drawing.up.size(), "{} carries no more than {:.0f} A",
                                         "{} carry no more than {:.0f} A",
                                         list_of(train, drawing.up), drawing.carried_a)});
    }
  }
  return limits;
}

CurrentLoads current_loads(const RuleBook& rules, const RunningTrain& train,
                           const LineProperties& section, PantographSet raised) {
  CurrentLoads loads;
  loads.train_limit_a = section.greatest_train_current_a;
  const CurrentRules in_force = current_rules(rules);
  loads.train_rule = in_force.train == nullptr ? std::string() : in_force.train->id;
  const Drawings drawings = drawings_of(train, section, raised, in_force);
  loads.train_a = drawings.sum_a;
  const auto raised_vehicles = std::ranges::count_if(
      train.vehicles,
      [&](const RunningVehicle& vehicle) { return raised.intersects(vehicle.all); });
  loads.complete = section.supply && std::ssize(drawings.vehicles) == raised_vehicles;
  for (const Drawing& drawing : drawings.vehicles) {
    const double share = most_loaded_share(drawing.up.size(), in_force);
    for (const std::size_t p : train.front_first) {
      if (drawing.up.contains(p)) {
        const PlacedPantograph& placed = train.pantographs[p];
        loads.pantographs.push_back(
            {.ref = placed.ref,
             .greatest_a = share * drawing.demand.current_a,
             .limit_a = running_limit_a(*placed.type, *section.supply, in_force),
             .rule =
                 in_force.per_pantograph == nullptr ? std::string() : in_force.per_pantograph->id});
      }
    }
  }
  return loads;
}

}  // namespace panup
