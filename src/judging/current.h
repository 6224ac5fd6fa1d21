#pragma once
/// How much current a vehicle draws through the contact wire, and how much its raised pantographs
/// may carry.
///
/// Demand, where the train file does not state it, follows from the vehicle type: I = P / (η λ U)
/// with the power at the wheels P, efficiency η, power factor λ (1 on DC) and the lowest permanent
/// voltage U of the system (EN 50163), and the auxiliaries' P / (λ U) on top; no more than the
/// control lets it draw. At a higher voltage the same power asks for less, so that this is the
/// greatest current at full power.
///
/// Of n raised pantographs of one vehicle the most loaded one takes I·k/n, k ≥ 1 for unequal
/// sharing; so n together carry n/k times what the weakest of them may. Each vehicle is taken to
/// feed itself alone: what a high-voltage line could share is left out, on the safe side.

#include <optional>
#include <string>
#include <vector>

#include "judging/facts/running_train.h"
#include "line/route.h"
#include "rules/rule_book.h"

namespace panup {

/// The rules on current that are in force; null where there is none.
struct CurrentRules {
  const Rule* demand = nullptr;          ///< how demand is computed; none: stated ones only
  const Rule* per_pantograph = nullptr;  ///< while running
  const Rule* train = nullptr;
  const Rule* standstill = nullptr;
  double share_of_rating = 1;  ///< of a pantograph's rating, that may be used; by `per_pantograph`
  double unequal_sharing = 1;  ///< k; by `per_pantograph`
};
CurrentRules current_rules(const RuleBook& rules);

struct Demand {
  double current_a = 0;
  bool computed = false;  ///< from the power of the vehicle type, for the train file does not say
  double voltage_v = 0;   ///< computed: the voltage at which it is drawn
  double power_kw = 0;    ///< computed: at the wheels; at a stand: of the auxiliaries
};

/// What a vehicle draws at full power; nothing where that is neither stated nor computed.
std::optional<Demand> running_demand(const Vehicle& vehicle, EnergySupply supply,
                                     const CurrentRules& rules);
/// The same of its auxiliaries at a stand.
std::optional<Demand> standstill_demand(const Vehicle& vehicle, EnergySupply supply,
                                        const CurrentRules& rules);

/// The traction power at the wheels, in kW, that a current allows at the lowest permanent voltage,
/// not below 0. Nothing where the type states no power on the system or demand is not computed.
std::optional<double> power_allowed_kw(const Vehicle& vehicle, EnergySupply supply,
                                       double current_a, const CurrentRules& rules);

/// What the pantograph may carry while running, by its own rating, its strips and the rule's share;
/// 0 where it is not for the system.
double running_limit_a(const PantographType& type, EnergySupply supply, const CurrentRules& rules);
/// The same at a stand, where the line's limit counts too: the section's own record, or else the
/// rule's for the system.
double standstill_limit_a(const PantographType& type, const LineProperties& section,
                          const CurrentRules& rules);

/// Of so many raised pantographs of one vehicle, the share of its current that the most loaded one
/// takes: k/n.
double most_loaded_share(std::size_t count, const CurrentRules& rules);

/// What raised pantographs of one vehicle with these limits carry together.
double carried_together_a(const std::vector<double>& limits_a, const CurrentRules& rules);

}  // namespace panup
