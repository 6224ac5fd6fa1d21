#pragma once

#include <string>

#include "drawing/block.h"
#include "plan/plan.h"

namespace panup {

/// Bars of current: one for each raised pantograph and one for the train, each against its limit,
/// which is a heavy line; what is beyond it is hatched.
Block draw_current(const TextSetter& setter, const CurrentLoads& loads, const Columns& columns);
/// The same in words.
std::string current_words(const CurrentLoads& loads, const Words& words);

/// The collector head from behind, to scale, with the middle of the track, the permitted position
/// on either side and the wire where the wind puts it.
Block draw_lateral(const TextSetter& setter, const LateralMargin& margin, const Columns& columns);
/// The same in words.
std::string lateral_words(const LateralMargin& margin, const Words& words);

/// Contact force of each raised pantograph: a bar from statistical minimum to statistical maximum,
/// the mean across it, and thin lines to the least and the greatest value; on an axis in newtons,
/// with the limit of the statistical maximum.
Block draw_forces(const TextSetter& setter, const ForceFigures& forces, const Columns& columns);
/// The same in words.
std::string force_words(const ForceFigures& forces, const Words& words);

}  // namespace panup
