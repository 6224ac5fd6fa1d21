#include "plan/candidates.h"

#include <algorithm>

#include "judging/current_rule.h"

namespace panup {

namespace {

/// How many pantographs of the vehicle may be worth raising together.
std::size_t most_useful(const Judge& judge, const LineProperties& section,
                        const RunningVehicle& vehicle, PantographSet usable) {
  constexpr std::size_t for_contact_points = 2;
  if (!section.supply) {
    return for_contact_points;
  }
  return std::max(for_contact_points,
                  pantographs_for_current(judge.train(), vehicle, usable, *section.supply,
                                          current_rules(judge.rules())));
}

}  // namespace

std::vector<VehicleChoices> choices_on(const Judge& judge, const Ground& ground) {
  const PantographSet usable = judge.usable(ground);
  std::vector<VehicleChoices> choices;
  for (const RunningVehicle& vehicle : judge.train().vehicles) {
    if (!vehicle.dead) {
      const PantographSet ordered = judge.train().kept_up & usable & vehicle.all;
      const std::size_t most =
          std::max(ordered.size(), most_useful(judge, ground.section, vehicle, usable));
      choices.push_back({.vehicle = &vehicle, .sets = (usable & vehicle.all).subsets(most)});
    }
  }
  return choices;
}

double configuration_count(const std::vector<VehicleChoices>& choices) {
  double count = 1;
  for (const VehicleChoices& of_vehicle : choices) {
    count *= static_cast<double>(of_vehicle.sets.size());
  }
  return count;
}

std::vector<PantographSet> configurations(const std::vector<VehicleChoices>& choices) {
  std::vector<PantographSet> sets{PantographSet{}};
  for (const VehicleChoices& of_vehicle : choices) {
    std::vector<PantographSet> longer;
    longer.reserve(sets.size() * of_vehicle.sets.size());
    for (const PantographSet set : sets) {
      for (const PantographSet more : of_vehicle.sets) {
        longer.push_back(set | more);
      }
    }
    sets = std::move(longer);
  }
  std::ranges::sort(sets);
  return sets;
}

std::size_t most_permitted(const Judge& judge, const Ground& ground) {
  if (ground.section.records.empty() ||
      rule_in_force(judge.rules(), RuleKind::raised_record) == nullptr) {
    return PantographSet::capacity;
  }
  int most = 1;
  for (const RaisedRecord& record : ground.section.records) {
    most = std::max(most, record.number);
  }
  for (const Consent* const consent : ground.consents) {
    most = std::max(most, consent->number);
  }
  return static_cast<std::size_t>(most);
}

}  // namespace panup
