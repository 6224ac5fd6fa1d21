#include "judging/current.h"

#include <algorithm>

#include "judging/judge.h"

namespace panup {

namespace {

std::string_view voltage_key(EnergySupply supply) {
  switch (supply) {
    case EnergySupply::ac_15kv:
      return "lowest_15kv_v";
    case EnergySupply::ac_25kv:
      return "lowest_25kv_v";
    case EnergySupply::dc_3kv:
      return "lowest_3kv_v";
    case EnergySupply::dc_1500v:
      return "lowest_1500v_v";
  }
  return {};
}

std::string_view standstill_key(EnergySupply supply) {
  switch (supply) {
    case EnergySupply::dc_3kv:
      return "dc_3kv_a";
    case EnergySupply::dc_1500v:
      return "dc_1500v_a";
    case EnergySupply::ac_15kv:
    case EnergySupply::ac_25kv:
      break;
  }
  return "ac_a";
}

/// What one type of vehicle takes from one system.
struct Drive {
  const PowerOnSupply* power = nullptr;
  double voltage_v = 0;
  double power_factor = 1;
  double efficiency = 1;

  double auxiliaries_a() const {
    return 1000 * power->auxiliary_kw.value_or(0) / (power_factor * voltage_v);
  }
};

std::optional<Drive> drive_of(const Vehicle& vehicle, EnergySupply supply,
                              const CurrentRules& rules) {
  if (rules.demand == nullptr) {
    return std::nullopt;
  }
  const auto found = std::ranges::find(vehicle.type->power, supply, &PowerOnSupply::supply);
  if (found == vehicle.type->power.end()) {
    return std::nullopt;
  }
  const auto assumed = [&](const char* key) { return number_of(*rules.demand, key).value_or(1); };
  Drive drive{.power = &*found,
              .voltage_v = assumed(voltage_key(supply).data()),
              .power_factor = 1,
              .efficiency = found->efficiency.value_or(assumed("efficiency_not_stated"))};
  if (is_ac(supply)) {
    drive.power_factor = found->power_factor.value_or(assumed("power_factor_not_stated"));
  }
  return drive;
}

const CurrentDemand* stated_demand(const Vehicle& vehicle, EnergySupply supply) {
  const auto found = std::ranges::find(vehicle.demand, supply, &CurrentDemand::supply);
  return found == vehicle.demand.end() ? nullptr : &*found;
}

}  // namespace

CurrentRules current_rules(const RuleBook& rules) {
  CurrentRules in_force{.demand = rule_in_force(rules, RuleKind::current_demand),
                        .per_pantograph = rule_in_force(rules, RuleKind::current_per_pantograph),
                        .train = rule_in_force(rules, RuleKind::train_current),
                        .standstill = rule_in_force(rules, RuleKind::standstill_current)};
  if (in_force.per_pantograph != nullptr) {
    in_force.share_of_rating = number_of(*in_force.per_pantograph, "share_of_rating").value_or(1);
    in_force.unequal_sharing = number_of(*in_force.per_pantograph, "unequal_sharing").value_or(1);
  }
  return in_force;
}

std::optional<Demand> running_demand(const Vehicle& vehicle, EnergySupply supply,
                                     const CurrentRules& rules) {
  if (const CurrentDemand* const stated = stated_demand(vehicle, supply)) {
    return Demand{.current_a = stated->running_a};
  }
  const auto drive = drive_of(vehicle, supply, rules);
  if (!drive) {
    return std::nullopt;
  }
  const double full_a =
      1000 * drive->power->power_kw / (drive->efficiency * drive->power_factor * drive->voltage_v) +
      drive->auxiliaries_a();
  return Demand{.current_a = std::min(full_a, drive->power->greatest_current_a.value_or(full_a)),
                .computed = true,
                .voltage_v = drive->voltage_v,
                .power_kw = drive->power->power_kw};
}

std::optional<Demand> standstill_demand(const Vehicle& vehicle, EnergySupply supply,
                                        const CurrentRules& rules) {
  if (const CurrentDemand* const stated = stated_demand(vehicle, supply)) {
    return Demand{.current_a = stated->standstill_a};
  }
  const auto drive = drive_of(vehicle, supply, rules);
  if (!drive || !drive->power->auxiliary_kw) {
    return std::nullopt;
  }
  return Demand{.current_a = drive->auxiliaries_a(),
                .computed = true,
                .voltage_v = drive->voltage_v,
                .power_kw = *drive->power->auxiliary_kw};
}

std::optional<double> power_allowed_kw(const Vehicle& vehicle, EnergySupply supply,
                                       double current_a, const CurrentRules& rules) {
  const auto drive = drive_of(vehicle, supply, rules);
  if (!drive) {
    return std::nullopt;
  }
  const double traction_a = std::max(0.0, current_a - drive->auxiliaries_a());
  return std::min(drive->power->power_kw,
                  traction_a * drive->voltage_v * drive->power_factor * drive->efficiency / 1000);
}

double running_limit_a(const PantographType& type, EnergySupply supply, const CurrentRules& rules) {
  const PantographSupply* const of_supply = supply_of(type, supply);
  if (of_supply == nullptr) {
    return 0;
  }
  const double strips_a = type.greatest_current_per_strip_a
                              ? type.strip_count * *type.greatest_current_per_strip_a
                              : of_supply->running_current_a;
  return rules.share_of_rating * std::min(of_supply->running_current_a, strips_a);
}

double standstill_limit_a(const PantographType& type, const LineProperties& section,
                          const CurrentRules& rules) {
  const PantographSupply* const of_supply =
      section.supply ? supply_of(type, *section.supply) : nullptr;
  if (of_supply == nullptr || rules.standstill == nullptr) {
    return 0;
  }
  const double line_a =
      section.greatest_standstill_current_a
          ? *section.greatest_standstill_current_a
          : number_of(*rules.standstill, standstill_key(*section.supply).data()).value_or(0);
  return std::min(of_supply->standstill_current_a, line_a);
}

double most_loaded_share(std::size_t count, const CurrentRules& rules) {
  return (count == 1 ? 1 : rules.unequal_sharing) / static_cast<double>(count);
}

double carried_together_a(const std::vector<double>& limits_a, const CurrentRules& rules) {
  return limits_a.empty()
             ? 0
             : *std::ranges::min_element(limits_a) / most_loaded_share(limits_a.size(), rules);
}

}  // namespace panup
