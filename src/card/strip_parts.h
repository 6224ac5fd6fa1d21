#pragma once

#include <functional>
#include <string>
#include <vector>

#include "drawing/block.h"
#include "plan/plan.h"
#include "stock/layout.h"
#include "wording/stretches.h"

namespace panup {

/// What the parts of the strip share while it is arranged.
struct Strip {
  const TextSetter& setter;
  const Plan& plan;
  const Columns& columns;
  std::vector<Stretch> stretches;
  std::vector<Layout> layouts;  ///< in the direction at departure, and in the other
};

/// What draws a chainage left of the spine, on a baseline.
std::function<void(Canvas& canvas, double baseline)> chainage(const Strip& strip, double km,
                                                              TextStyle style);

/// The row of a stretch: system, picture of the train, names of what is up, speed; or that all are
/// down, or that nothing is permitted.
Block stretch_block(const Strip& strip, const Stretch& stretch);

/// The order of the speed that the row of a stretch states itself, with its landmark, so that it
/// needs no row of its own; null if there is none.
const Instruction* stated_by_row(const Plan& plan, const Stretch& stretch);

}  // namespace panup
