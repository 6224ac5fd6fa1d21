#pragma once

#include <optional>
#include <string>
#include <utility>

#include "rules/rule_book.h"

namespace panup {

/// A consent of the infrastructure manager, as a finding names it.
struct ConsentNamed {
  std::string reference;
  std::string given_by;
  friend bool operator==(const ConsentNamed&, const ConsentNamed&) = default;
};

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
  std::string because = {};  ///< why there is the rule at all: the reason that it states
  std::optional<ConsentNamed> rests_on = {};  ///< the consent without which it would not be so
};

/// What a rule says here.
inline Finding finding_of(const Rule& rule, Strength strength, std::string text) {
  return {.rule = rule.id,
          .strength = strength,
          .standing = rule.standing,
          .text = std::move(text),
          .source = rule.source,
          .because = rule.reason};
}

}  // namespace panup
