#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "rules/rule_book.h"

namespace panup {

/// A consent of the infrastructure manager, as a finding names it.
struct ConsentNamed {
  std::string reference;
  std::string given_by;
  friend bool operator==(const ConsentNamed&, const ConsentNamed&) = default;
};

/// What a value is of that a finding rests on.
enum class ValueOf : std::uint8_t {
  section,
  separation_section,
  low_place,
  pantograph_type,
  vehicle_type,
  vehicle,
  train,
  load
};

inline constexpr std::array<std::string_view, 8> value_of_names{
    "section",      "separation section",
    "low place",    "pantograph type",
    "vehicle type", "vehicle",
    "train",        "load"};

/// "section", "separation section", …
constexpr std::string_view name_of(ValueOf of) {
  return value_of_names.at(static_cast<std::size_t>(of));
}

inline constexpr std::array<std::string_view, 8> names_of_several{
    "sections",      "separation sections",
    "low places",    "pantograph types",
    "vehicle types", "vehicles",
    "trains",        "loads"};

/// "sections", "separation sections", …
constexpr std::string_view name_of_several(ValueOf of) {
  return names_of_several.at(static_cast<std::size_t>(of));
}

/// A value of the input that a finding rests on, and where it comes from.
struct DecidingValue {
  ValueOf of{};
  /// Id or name. Of a section empty where it is the one under the front of the train: the same
  /// finding may be of several that are alike to the rules.
  std::string id;
  std::string key;          ///< as in the file
  std::string source = {};  ///< in words; empty: none is stated
  friend bool operator==(const DecidingValue&, const DecidingValue&) = default;
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
  std::vector<DecidingValue> values = {};     ///< of the input, by which it is so
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
