#pragma once

#include <cstddef>
#include <span>

#include "plan/planning_case.h"

namespace panup {

/// Judges of a long train, on each ground, the configurations that a good way could take; there are
/// too many to judge them all.
///
/// 1. Along the train: those that the ladder likes on each ground (`preferred_sets`), judged on all
///    grounds.
/// 2. Along the route: the best way through what is judged, then what differs from it by what one
///    vehicle has up, until no such change makes the way better.
/// 3. The same for every pantograph of the way that may fail.
///
/// Sets `PlanningCase::search`, with a bound that no way is below.
/// `first_pieces`: one piece for each ground.
void search_long_train(PlanningCase& planning, std::span<const std::size_t> first_pieces);

}  // namespace panup
