#pragma once

#include "checks/current.h"
#include "rules/judge.h"

namespace panup {

/// Judges current while running, by the rules of kind `current_per_pantograph` and `train_current`
/// that are in force:
///
/// A demand that the train file states has to be carried: a configuration that does not is
/// forbidden. One that is computed from the power of the vehicle is the greatest that can be asked
/// for: what a configuration does not carry of it counts (`Verdict::missing_current_a`), and the
/// finding says what power may be drawn, and whether one more pantograph helps. The train's
/// sum limits the power too. The rule book must outlive the result.
FurtherRule current_rule(const RuleBook& rules);

/// How many pantographs of a vehicle can be worth raising for its current on a section: 1 where one
/// carries it, more where more are needed; all where even they do not.
int pantographs_for_current(const RunningTrain& train, const RunningVehicle& vehicle,
                            PantographSet usable, EnergySupply supply, const CurrentRules& rules);

}  // namespace panup
