#pragma once

#include <string>
#include <vector>

#include "judging/current.h"
#include "judging/facts/running_train.h"
#include "line/route.h"

namespace panup {

/// How many pantographs of a vehicle can be worth raising for its current on a section: 1 where one
/// carries it, more where more are needed; all where even they do not.
std::size_t pantographs_for_current(const RunningTrain& train, const RunningVehicle& vehicle,
                                    PantographSet usable, EnergySupply supply,
                                    const CurrentRules& rules);

/// A raised pantograph with current through it.
struct PantographLoad {
  PantographRef ref;
  double greatest_a = 0;  ///< what it may take of its vehicle's demand, shared unequally
  double limit_a = 0;
  std::string rule = {};  ///< id of the rule that holds it to that; empty: its rating alone
  friend bool operator==(const PantographLoad&, const PantographLoad&) = default;
};

/// What a configuration draws at full power.
struct CurrentLoads {
  std::vector<PantographLoad> pantographs;  ///< of vehicles whose demand is known, front first
  double train_a = 0;                       ///< of these vehicles together
  std::optional<double> train_limit_a;      ///< of the section; none: not stated
  std::string train_rule = {};              ///< id of the rule that holds it to that
  bool complete = true;                     ///< the demand of all with a raised one is known
  friend bool operator==(const CurrentLoads&, const CurrentLoads&) = default;
};

/// Less than full power, for a configuration on a section.
struct PowerLimit {
  int vehicle = 0;      ///< its number; 0: each working vehicle
  int percent = 0;      ///< of full power, rounded down
  std::string because;  ///< one clause
};

/// What the rules leave of full power where demand computed from power asks for more current than
/// the raised pantographs, or the line, may carry. For the whole train first, then by vehicle.
std::vector<PowerLimit> power_limits(const RuleBook& rules, const RunningTrain& train,
                                     const LineProperties& section, PantographSet raised);

/// Demand against limits of the raised pantographs on the section, for what is drawn of it.
CurrentLoads current_loads(const RuleBook& rules, const RunningTrain& train,
                           const LineProperties& section, PantographSet raised);

}  // namespace panup
