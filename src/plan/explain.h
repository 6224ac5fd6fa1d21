#pragma once

#include <cstddef>
#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/way.h"

namespace panup {

/// The stretches of a way as they are handed out: neighbouring pieces of one route section with the
/// same configuration, speed and conditions are one. `first_piece` receives, for each, the piece it
/// begins with.
std::vector<PlannedSection> planned_sections(const PlanningCase& planning, const Way& way,
                                             PantographSet defective,
                                             std::vector<std::size_t>* first_piece = nullptr);

/// What the rules say of a configuration on a piece, the strongest first, alternatives included
/// where a last resort was accepted or consent is needed.
std::vector<Finding> findings_for(const PlanningCase& planning, std::size_t piece,
                                  PantographSet raised, PantographSet defective);

/// Why nothing is permitted on a piece.
std::vector<Finding> findings_for_blocked(const PlanningCase& planning, std::size_t piece,
                                          PantographSet defective);

/// The best configuration on a piece that needs no consent, in words; empty if there is none.
std::string without_consent(const PlanningCase& planning, std::size_t piece,
                            PantographSet defective);

/// The working vehicles that have nothing up in `raised`, by number.
std::vector<int> put_dead(const RunningTrain& train, PantographSet raised);

/// Worst first: none, consent needed, permitted.
Answer worst(const std::vector<PlannedSection>& sections);

}  // namespace panup
