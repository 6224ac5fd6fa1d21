#pragma once

#include <string>
#include <vector>

#include "plan/way.h"

namespace panup {

/// What keeps a train from having one of some configurations up on a piece, although each of them
/// is permitted there. It looks along the pieces before and behind, as far as nothing may be
/// changed.
struct InTheWay {
  std::size_t piece = 0;      ///< the first that none of them passes
  bool ahead = false;         ///< it lies behind the piece in the direction of travel
  PantographSet raised;       ///< the one of them that comes so far, the best by the ladder
  Rung rung = Rung::blocked;  ///< where it would lose there; `blocked`: it is ruled out
};

/// What is in the way of `sets`, which are permitted on `piece`. With a `way`, a set also comes to
/// an end where it is worse than what the way has up, at `step` of the ladder or a higher one.
/// Nothing where one of them could be had up: then something else decides.
std::optional<InTheWay> find_in_the_way(const PlanningCase& planning, std::size_t piece,
                                        const std::vector<PantographSet>& sets,
                                        PantographSet defective, const Way* way = nullptr,
                                        Rung step = Rung::blocked);

/// The same in words, with the section, its chainage and what the rule says there.
std::string words_for(const PlanningCase& planning, const InTheWay& in_the_way,
                      PantographSet defective);

/// Adds to the findings of a piece that accept a last resort, expose a load, leave a vehicle short
/// of contact points or need consent what is in the way of something better.
void add_what_is_in_the_way(const PlanningCase& planning, const Way& way, std::size_t piece,
                            PantographSet defective, std::vector<Finding>& findings);

}  // namespace panup
