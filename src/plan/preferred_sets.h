#pragma once

#include <vector>

#include "plan/candidates.h"
#include "plan/ladder.h"

namespace panup {

/// Of each vehicle only what may be better than less: two pantographs where one alone has too few
/// contact points, carries too little current or is slower; and nothing without what is ordered up.
std::vector<VehicleChoices> narrowed(const Judge& judge, const Ground& ground,
                                     std::vector<VehicleChoices> choices);

/// Configurations that the ladder likes on the ground, the best first, found without trying all:
/// along the train, vehicle by vehicle from the front, the best few of each number raised so far go
/// on. Beside the very best there is one for each number of working vehicles, since other pieces of
/// the route may permit fewer. None is forbidden; there may be better ones.
std::vector<PantographSet> preferred_sets(const Judge& judge, const Ground& ground,
                                          const std::vector<VehicleChoices>& narrowed,
                                          PantographSet defective, const LadderTerms& terms);

}  // namespace panup
