#pragma once

#include <string>

#include "rules/rule_book.h"

namespace panup {

/// What a rule said of a configuration on a piece of route.
struct Finding {
  std::string rule;  ///< id of the rule
  Strength strength{};
  Standing standing{};
  std::string text;    ///< what it says here, one or two sentences
  std::string source;  ///< where the rule comes from
};

}  // namespace panup
