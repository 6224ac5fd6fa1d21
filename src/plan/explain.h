#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "plan/planning_case.h"

namespace panup {

/// What the rules say of a configuration on a piece, the strongest first, alternatives included
/// where a last resort was accepted or consent is needed.
std::vector<Finding> findings_for(const PlanningCase& planning, std::size_t piece,
                                  PantographSet raised, PantographSet defective);

/// Why nothing is permitted on a piece.
std::vector<Finding> findings_for_blocked(const PlanningCase& planning, std::size_t piece,
                                          PantographSet defective);

/// What a train may do on a piece whose configuration `raised` needs a consent, while it has none:
/// the same at the speed of the record, where only its speed needs one; else the best configuration
/// that needs none. In words; empty if there is none.
std::string without_consent(const PlanningCase& planning, std::size_t piece, PantographSet raised,
                            PantographSet defective);

/// The best of some configurations on a piece, by itself; null if there is none without a defective
/// pantograph.
const JudgedSet* best_of(const PlanningCase& planning, std::size_t piece,
                         std::span<const JudgedSet> sets, PantographSet defective);

/// "12 s", "3 min 5 s"; without the sign.
std::string seconds_words(double seconds);

/// The working vehicles that have nothing up in `raised`, by number.
std::vector<int> put_dead(const RunningTrain& train, PantographSet raised);

/// Where all pantographs are down for a separation section: that it asks for it, with what states
/// that. Nothing on other pieces.
std::optional<Finding> lowered_finding(const PlanningCase& planning, std::size_t piece,
                                       Strength strength);

/// Why what was up may not stay up until it comes to the lowered stretch that begins at `piece`.
Finding cannot_stay_up_finding(const PlanningCase& planning, std::size_t piece,
                               PantographSet raised);

}  // namespace panup
