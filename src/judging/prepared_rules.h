#pragma once

#include <memory>
#include <optional>

#include "judging/computed_speed.h"
#include "judging/current.h"
#include "judging/lateral_rule.h"
#include "judging/separation_rule.h"
#include "rules/rule_book.h"

namespace panup {

/// What kinds of rule take from the book and the day once, and not for every configuration. Owned
/// by a `Judge`; the rule book must outlive it.
struct PreparedRules {
  CurrentRules current;
  SeparationRules separation;
  std::optional<WindOnWire> wind;             ///< nothing where no rule of `lateral_position` is on
  std::optional<double> temperature_c;        ///< of the day; may not be stated
  ComputedSpeeds* computed_speeds = nullptr;  ///< null: the mechanics is not asked
};

}  // namespace panup
