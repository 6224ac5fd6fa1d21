#include "rules/rule_book.h"

#include <gtest/gtest.h>

#include <array>

namespace panup {
namespace {

Rule rule(std::string id, RuleKind kind, bool on = true) {
  Rule made;
  made.id = std::move(id);
  made.kind = kind;
  made.on = on;
  return made;
}

TEST(Strength, IsNamedAsInFiles) {
  using enum Strength;
  const std::array<std::pair<Strength, std::string_view>, 6> names{
      {{forbidden, "forbidden"},
       {consent_needed, "consent needed"},
       {last_resort, "last resort"},
       {prescribed, "prescribed"},
       {speed_limit, "speed limit"},
       {note, "note"}}};
  for (const auto& [strength, name] : names) {
    EXPECT_EQ(name_of(strength), name);
    EXPECT_EQ(strength_named(name), strength);
  }
  EXPECT_EQ(strength_named("permitted"), std::nullopt);
}

TEST(Standing, IsNamedAsInFiles) {
  using enum Standing;
  const std::array<std::pair<Standing, std::string_view>, 4> names{{{practice, "practice"},
                                                                    {derived, "derived"},
                                                                    {published, "published"},
                                                                    {operator_rule, "operator"}}};
  for (const auto& [standing, name] : names) {
    EXPECT_EQ(name_of(standing), name);
    EXPECT_EQ(standing_named(name), standing);
  }
  EXPECT_EQ(standing_named("hearsay"), std::nullopt);
}

TEST(RuleInForce, IsTheFirstOfItsKindThatIsOn) {
  RuleBook book;
  book.rules = {rule("other", RuleKind::line_speed), rule("off", RuleKind::coasting, false),
                rule("first", RuleKind::coasting), rule("second", RuleKind::coasting)};
  EXPECT_EQ(rule_in_force(book, RuleKind::coasting), &book.rules[2]);
  EXPECT_EQ(rule_in_force(book, RuleKind::facing_pair), nullptr);
}

TEST(RuleInForce, IsNoneWhereAllOfItsKindAreOff) {
  RuleBook book;
  book.rules = {rule("off", RuleKind::coasting, false)};
  EXPECT_EQ(rule_in_force(book, RuleKind::coasting), nullptr);
}

TEST(FindRule, FindsByIdWhetherOnOrOff) {
  RuleBook book;
  book.rules = {rule("one", RuleKind::line_speed), rule("two", RuleKind::coasting, false)};
  EXPECT_EQ(find_rule(book, "two"), &book.rules[1]);
  EXPECT_EQ(find_rule(book, "three"), nullptr);
}

TEST(CitedSource, IsOfTheFirstBookForWhatNoLaterOneHasChanged) {
  Rule cited = rule("one", RuleKind::coasting);
  cited.first_source = "Handbook, table 1";
  EXPECT_EQ(cited_source(cited), "Handbook, table 1");
  cited.changed = {{"speed_kmh", "rules of A"}, {"strength", "letter of B"}, {"on", "rules of A"}};
  EXPECT_EQ(cited_source(cited),
            "Handbook, table 1; speed_kmh, on: rules of A; strength: letter of B");
}

TEST(NumberOf, IsNothingWhereItIsNotStated) {
  Rule stated = rule("one", RuleKind::coasting);
  stated.numbers["lowest_speed_kmh"] = 5;
  EXPECT_EQ(number_of(stated, "lowest_speed_kmh"), 5);
  EXPECT_EQ(number_of(stated, "speed_kmh"), std::nullopt);
}

TEST(Spacing, HasItsOwnDistancesForAcAndForEachDcSystem) {
  const SpacingRow row{
      .up_to_kmh = 100, .ac_m = {1, 2, 3}, .dc_3kv_m = {4, 5, 6}, .dc_1500v_m = {7, 8, 9}};
  EXPECT_EQ(spacing_of(row, EnergySupply::ac_15kv), row.ac_m);
  EXPECT_EQ(spacing_of(row, EnergySupply::ac_25kv), row.ac_m);
  EXPECT_EQ(spacing_of(row, EnergySupply::dc_3kv), row.dc_3kv_m);
  EXPECT_EQ(spacing_of(row, EnergySupply::dc_1500v), row.dc_1500v_m);
}

}  // namespace
}  // namespace panup
