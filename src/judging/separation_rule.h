#pragma once

#include "judging/judge.h"
#include "rules/rule_book.h"

namespace panup {

/// Judges the separation sections that the train passes with pantographs up, on the pieces of route
/// where it stands over them (`JudgedCase::separations`), by the rules of kind `zones_joined`,
/// `separation_length` and `separation_unknown` that are in force:
///
/// Where zones are stated, the train is swept through them. Where the register says what the length
/// means, the distances of the strips keep to it, zones or not. Where neither is stated and more
/// than one pantograph is up, whether it passes is unknown. The main circuit breaker is taken to be
/// open where the section asks for it. The rule book must outlive the result.
FurtherRule separation_rule(const RuleBook& rules);

/// How far strips reach that nobody states, by the rule of kind `zones_joined`: also where it is
/// turned off.
double strips_not_stated_m(const RuleBook& rules);

}  // namespace panup
