#pragma once

#include <vector>

#include "plan/plan.h"
#include "wording/wording.h"

namespace panup {

/// What one rule says with one label, gathered over the sections of a plan. The same words over
/// many sections stand once, with the stretches they hold on.
struct FindingGroup {
  struct Saying {
    std::string text;
    std::vector<KmStretch> where;
    bool everywhere = false;  ///< on every section that has pantographs up, or none permitted
    std::vector<DecidingValue> values = {};  ///< by which it is so, of all these sections
  };
  std::string rule;
  Strength strength{};
  Standing standing{};
  std::string source;
  std::string because;            ///< as in `Finding`; of several groups of a rule the first has it
  std::optional<bool> kept = {};  ///< as in `Finding`
  std::vector<Saying> sayings;
};

/// The findings of the sections, the strongest first; of one strength, what is not as the rule
/// wants it before what is, and else as they first appear along the route.
std::vector<FindingGroup> group_findings(const std::vector<PlannedSection>& sections);

/// The same for findings that all concern one place.
std::vector<FindingGroup> group_findings(const std::vector<Finding>& findings);

}  // namespace panup
