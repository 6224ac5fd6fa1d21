#pragma once

#include <optional>
#include <string>

#include "rules/rule_book.h"

namespace panup {

/// What a rule said of a configuration on a piece of route.
struct Finding {
  std::string rule;  ///< id of the rule
  Strength strength{};
  Standing standing{};
  std::string text;         ///< what it says here, one or two sentences
  std::string source;       ///< where the rule comes from
  std::string reason = {};  ///< of a speed limit: why, in one clause with no full stop
  /// Of a rule that wants something of the configuration: whether it is so here. Nothing where the
  /// rule is not of that sort.
  std::optional<bool> kept = {};
};

}  // namespace panup
