#pragma once

#include "plan/planning_case.h"

namespace panup {

/// What every way along the route costs at least, also one with configurations that nobody has
/// judged. For trains of which not all configurations can be.
///
/// On each piece and for each choice of working vehicles the costs of the vehicles by themselves
/// are added up, each with what serves it best; number and distance of the raised ones are the
/// most favourable that so many vehicles leave. Changes, and what neighbours do to each other, are
/// left out, so that the bound is below the best way, often at its running time.
///
/// Lexicographic costs add up: where every summand is at least its own least one, so is the sum.
///
/// With more than `most_vehicles_bounded` vehicles that could work: nothing, on any rung.
LadderCost least_cost(const PlanningCase& planning, PantographSet defective);

inline constexpr std::size_t most_vehicles_bounded = 14;

}  // namespace panup
