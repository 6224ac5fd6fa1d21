#include <gtest/gtest.h>

#include <set>
#include <string>

#include "rules/rule_book.h"

namespace panup {
namespace {

TEST(RuleKinds, AreListedInTheOrderOfTheirEnumeration) {
  for (std::size_t i = 0; i < rule_kinds().size(); ++i) {
    EXPECT_EQ(static_cast<std::size_t>(rule_kinds()[i].kind), i) << rule_kinds()[i].name;
  }
}

TEST(RuleKinds, HaveNamesOfTheirOwnByWhichTheyAreFound) {
  std::set<std::string_view> names;
  for (const RuleKindSpec& spec : rule_kinds()) {
    EXPECT_TRUE(names.insert(spec.name).second) << spec.name;
    EXPECT_EQ(rule_kind_named(spec.name), &spec);
    EXPECT_EQ(&spec_of(spec.kind), &spec);
    EXPECT_FALSE(spec.meaning.empty()) << spec.name;
  }
  EXPECT_EQ(rule_kind_named("no-such-kind"), nullptr);
}

TEST(RuleKinds, StateARangeForEveryNumberAndWordsForEveryWord) {
  for (const RuleKindSpec& spec : rule_kinds()) {
    std::set<std::string_view> keys;
    for (const ParameterSpec& parameter : spec.parameters) {
      const std::string where = std::string(spec.name) + ", " + std::string(parameter.key);
      EXPECT_TRUE(keys.insert(parameter.key).second) << where;
      EXPECT_FALSE(parameter.meaning.empty()) << where;
      if (parameter.type == ParameterType::number) {
        EXPECT_LT(parameter.least, parameter.greatest) << where;
      }
      if (parameter.type == ParameterType::word || parameter.type == ParameterType::words) {
        EXPECT_FALSE(parameter.words.empty()) << where;
      }
    }
  }
}

/// A mistake in a book of an operator must not let a defective pantograph go up.
TEST(RuleKinds, WhatKeepsAPantographDownForSafetyCannotBeTurnedOff) {
  using enum RuleKind;
  for (const RuleKind kind : {pantograph_supply, defective_pantograph, line_speed, vehicle_speed}) {
    EXPECT_TRUE(spec_of(kind).always_on) << spec_of(kind).name;
  }
}

}  // namespace
}  // namespace panup
