#pragma once

#include <memory>

#include "rules/rule_book.h"

namespace panup {

/// What was said of passages: failures ask for the same ones again and again, and the reserve is
/// dear to find. Shared by all threads that judge.
class SaidPassages;

/// What the rules on separation sections share. Where zones are stated, the train is swept through
/// them (`zones_joined`). Where the register says what the length means, the distances of the
/// strips keep to it, zones or not (`separation_length`). Where neither is stated and more than one
/// pantograph is up, whether it passes is unknown, as it is where a high-voltage line decides of
/// which nobody has said whether it is there (`separation_unknown`). The main circuit breaker is
/// taken to be open where the section asks for it.
struct SeparationRules {
  bool by_zones = false;  ///< a rule of kind `zones_joined` is in force
  double strips_not_stated_m = 0;
  std::shared_ptr<SaidPassages> said;
};
SeparationRules separation_rules(const RuleBook& rules);

/// How far strips reach that nobody states, by the rule of kind `zones_joined`: also where it is
/// turned off.
double strips_not_stated_m(const RuleBook& rules);

}  // namespace panup
