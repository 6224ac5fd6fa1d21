#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/powerless.h"
#include "plan/way.h"

namespace panup {

/// Says by the rule of kind `coasting`, in the section of the plan where each stretch without power
/// begins: how far, how long and how fast the train runs without power, or that it may come to a
/// stand there, at what speed it would not, and which pantographs would stand under live wire.
/// Where the train's mass or running resistance or the gradient is not stated, that it is not known
/// has the strength of the rule too.
void add_coasting_findings(const PlanningCase& planning, const Way& way, PantographSet defective,
                           const std::vector<PowerlessStretch>& stretches,
                           std::vector<PlannedSection>& sections);

/// The first stretch without power over several separation sections or works in one, in which the
/// train comes to a stand, or too slow: nobody may order that, unless the train file names a
/// consent for it.
struct CannotCoast {
  std::size_t piece = 0;  ///< that it is not entered on
  Finding finding;
};
std::optional<CannotCoast> cannot_coast(const PlanningCase& planning, const Way& way,
                                        PantographSet defective,
                                        const std::vector<PowerlessStretch>& stretches);

/// Says through what it is not checked whether the train comes to a stand: no rule asks for it.
std::vector<std::string> coasting_notes(const PlanningCase& planning,
                                        const std::vector<PowerlessStretch>& stretches);

}  // namespace panup
