#pragma once

#include <vector>

#include "quality/permitted_speed.h"

namespace panup {

/// Says in `speeds[i].hangs_on`, of each permitted speed that the force's deviation or contact loss
/// decides, which two inputs of line and pantographs its figure hangs on most: each is put at
/// either end of its tolerance, all others staying as they are. `speeds` are those of `questions`,
/// in their order, as `permitted_speeds` gives them. The tolerances are those of the rule of kind
/// `tolerances`; where none is in force, nothing is said. False where the runs were stopped.
///
/// Dropper lengths and places of supports differ along a line, so they are drawn, twice. A
/// messenger support whose stiffness is not stated is taken stiff and soft. An input of which there
/// is nothing in the files, as damping of 0, is not looked at.
bool find_what_speeds_hang_on(const std::vector<SpeedQuestion>& questions, const RuleBook& rules,
                              const RunSource& runs, std::vector<PermittedSpeed>& speeds);

/// Whether that is said of a permitted speed.
bool can_hang_on_inputs(const PermittedSpeed& speed);

}  // namespace panup
