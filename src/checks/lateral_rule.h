#pragma once

#include <optional>

#include "rules/judge.h"
#include "rules/rule_book.h"

namespace panup {

/// How far from the middle of the track the wire may lie under a head.
struct PermittedPosition {
  double position_m = 0;
  bool assumed = false;  ///< of a head whose working width nobody states
};

/// By head width and, where it is stated, working width; the smaller of the two where both speak.
/// May be below 0: then no wire lies well under it. `rule` is of kind `lateral_position`.
PermittedPosition permitted_position(const Rule& rule, const PantographType& type);

/// Judges where the wind puts the contact wire on the heads of the raised pantographs, by the rule
/// of kind `lateral_position` in force, on sections that state their spans: a wind beyond what a
/// span holds is forbidden, else the margin is a note. Without a wind of the day, the design wind
/// of the rule counts; without that too, only what does not hold in the calm is ruled out. Says
/// nothing where spans are not stated. The rule book must outlive the result.
FurtherRule lateral_position_rule(const RuleBook& rules, std::optional<double> wind_ms);

}  // namespace panup
