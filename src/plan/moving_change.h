#pragma once

#include <optional>
#include <vector>

#include "plan/planning_case.h"

namespace panup {

/// One thing the driver does in a change: pantographs go up, or come down.
struct ChangeStep {
  PantographSet up;
  PantographSet down;  ///< empty where some go up
};

/// A change of pantographs on the move.
struct MovingChange {
  std::vector<ChangeStep> steps;
  double speed_kmh = 0;  ///< at which all of it is done
};

/// How one configuration is changed for another on the move where `piece` begins: the new
/// pantographs go up before the old ones come down, all vehicles together, or, where a state with
/// so many up is not permitted, some vehicles after the others. Each state between is permitted
/// without consent on every piece that the train reaches meanwhile, and has no more facing pairs
/// than the one before the change or the one after. Nothing if there is no such sequence, or no
/// room to end it.
std::optional<MovingChange> moving_change(const PlanningCase& planning, std::size_t piece,
                                          PantographSet from, PantographSet to);

/// The times a step takes, with what orders leave to the driver, in s.
double raising_s(const PlanningCase& planning, std::size_t piece, PantographSet set);
double lowering_s(const PlanningCase& planning, std::size_t piece, PantographSet set);
/// From the order until the breaker is open.
double opening_s(const PlanningCase& planning);

}  // namespace panup
