/// Rules that an operator limits to sections, lines, classes or loads. The limits and speeds are
/// invented; that a rule holds where all its limits are met is a definition of the rule book.

#include "judging/limited_rules.h"

#include <gtest/gtest.h>

#include "judging/judging_table.h"
#include "sample_case.h"

namespace panup {
namespace {

struct LimitedRules : testing::Test {
  SampleCase sample;
  std::shared_ptr<VehicleType> type = SampleCase::locomotive();

  LimitedRules() {
    sample.add(type).load(LoadNature::dangerous);
    sample.section.id = "h1";
    sample.section.line = "7";
  }

  Rule& restrict(double speed_kmh, const OnlyFor& only_for, const std::string& id = "snow") {
    Rule rule;
    rule.id = id;
    rule.kind = RuleKind::speed_restriction;
    rule.strength = Strength::speed_limit;
    rule.numbers["speed_kmh"] = speed_kmh;
    rule.only_for = only_for;
    return sample.book.rules.emplace_back(rule);
  }
  double speed_kmh() const { return sample.with("1.2").verdict.speed_kmh; }
  /// With the restriction limited so.
  bool holds(const OnlyFor& only_for) {
    restrict(80, only_for);
    const bool limited = speed_kmh() == 80;
    sample.book.rules.pop_back();
    return limited;
  }
};

TEST_F(LimitedRules, ARuleForLineSevenHoldsOnLineSeven) {
  EXPECT_TRUE(holds({.lines = {"7"}}));
  EXPECT_TRUE(holds({.lines = {"8", "7"}})) << "any of the values";
  EXPECT_FALSE(holds({.lines = {"8"}}));
  sample.section.line = "";
  EXPECT_FALSE(holds({.lines = {"7"}})) << "cross_check has refused this";
}

TEST_F(LimitedRules, ARuleForASectionHoldsOnIt) {
  EXPECT_TRUE(holds({.sections = {"h1"}}));
  EXPECT_FALSE(holds({.sections = {"h2"}}));
}

TEST_F(LimitedRules, ARuleForAClassHoldsWhereAVehicleOfItWorks) {
  EXPECT_TRUE(holds({.classes = {"test-type"}}));
  EXPECT_FALSE(holds({.classes = {"k41"}}));
  auto other = std::make_shared<VehicleType>(*type);
  other->id = "k41";
  sample.add(other);
  EXPECT_TRUE(holds({.classes = {"k41"}})) << "wherever it stands in the train";
  sample.vehicle(2).dead_in_tow = true;
  EXPECT_FALSE(holds({.classes = {"k41"}}));
}

TEST_F(LimitedRules, ARuleForALoadHoldsWhereTheTrainHasOne) {
  EXPECT_TRUE(holds({.loads = {"dangerous"}}));
  EXPECT_TRUE(holds({.loads = {"sensitive", "dangerous"}}));
  EXPECT_FALSE(holds({.loads = {"ordinary", "sensitive"}}));
}

TEST_F(LimitedRules, AllThatIsStatedHasToBeMet) {
  const OnlyFor all{
      .sections = {"h1"}, .lines = {"7"}, .classes = {"test-type"}, .loads = {"dangerous"}};
  EXPECT_TRUE(holds(all));
  OnlyFor other = all;
  other.sections = {"h2"};
  EXPECT_FALSE(holds(other));
  other = all;
  other.lines = {"8"};
  EXPECT_FALSE(holds(other));
  other = all;
  other.classes = {"k41"};
  EXPECT_FALSE(holds(other));
  other = all;
  other.loads = {"sensitive"};
  EXPECT_FALSE(holds(other));
}

TEST_F(LimitedRules, ARestrictionHoldsAlsoWithAllPantographsDown) {
  restrict(70, {.lines = {"7"}});
  const auto lowered = [&] {
    const Judge judge = sample.judge();
    return judge.judge_lowered(judge.ground(sample.section, false)).speed_kmh;
  };
  EXPECT_EQ(lowered(), 70);
  sample.section.line = "8";
  EXPECT_EQ(lowered(), 120);
}

TEST_F(LimitedRules, ItIsSaidWhatTheRuleIsLimitedTo) {
  restrict(80, {.lines = {"7"}});
  const Said said = sample.with("1.2");
  EXPECT_EQ(said.of("snow"),
            "speed limit: Speed restriction: 80 km/h. The rule is only for line 7.");
  EXPECT_EQ(said.first("snow").reason, "Speed restriction: 80 km/h, only for line 7");
}

TEST_F(LimitedRules, OfIceSpeedsTheLowestThatHoldsCounts) {
  sample.iced = true;
  sample.section.records = {{4, 5, 120}};
  sample.rule("ice-speed").numbers["speed_kmh"] = 60;
  Rule for_class = sample.rule("ice-speed");
  for_class.id = "ice-speed-of-the-class";
  for_class.numbers["speed_kmh"] = 40;
  for_class.only_for.classes = {"k41"};
  sample.book.rules.push_back(for_class);
  EXPECT_EQ(sample.with("1.1 1.2").verdict.speed_kmh, 60);
  auto other = std::make_shared<VehicleType>(*type);
  other->id = "k41";
  sample.add(other);
  EXPECT_EQ(sample.with("1.1 1.2 2.2").verdict.speed_kmh, 40);
  sample.book.rules.back().numbers["speed_kmh"] = 90;
  EXPECT_EQ(sample.with("1.1 1.2 2.2").verdict.speed_kmh, 60);
}

TEST_F(LimitedRules, ThePrescribedPatternMayDifferByLine) {
  for (Rule& rule : sample.book.rules) {
    if (rule.kind == RuleKind::prescribed_position) {
      rule.only_for.lines = {"7"};
    }
  }
  const auto prescribed = [&] {
    const Judge judge = sample.judge();
    return judge.prescribed(judge.ground(sample.section, false), PantographSet{0})[0].size();
  };
  EXPECT_EQ(prescribed(), 1U);
  sample.section.line = "8";
  EXPECT_EQ(prescribed(), 0U);
}

TEST_F(LimitedRules, WhereOneRuleOfAKindSpeaksItIsTheFirstThatHolds) {
  const auto wear = std::ranges::find(sample.book.rules, RuleKind::strip_wear, &Rule::kind);
  ASSERT_NE(wear, sample.book.rules.end());
  Rule general = *wear;
  wear->only_for.lines = {"8"};
  general.id = "wear-elsewhere";
  sample.book.rules.push_back(general);
  const std::string limited =
      std::ranges::find(sample.book.rules, RuleKind::strip_wear, &Rule::kind)->id;
  sample.section.records = {{2, 5, 120}};
  EXPECT_EQ(sample.with("1.1 1.2").of(limited), "");
  EXPECT_NE(sample.with("1.1 1.2").of("wear-elsewhere"), "");
  sample.section.line = "8";
  EXPECT_NE(sample.with("1.1 1.2").of(limited), "");
  EXPECT_EQ(sample.with("1.1 1.2").of("wear-elsewhere"), "");
}

TEST(KindsThatMayBeLimited, AreJudgedOnTheSectionOfTheFrontAndNowhereElse) {
  for (const KindOfJudging& judging : judging_table()) {
    const RuleKindSpec& spec = spec_of(judging.kind);
    if (spec.may_be_limited) {
      EXPECT_TRUE(judging.elsewhere.empty()) << spec.name;
      EXPECT_FALSE(judging.of_every_wire) << spec.name;
      EXPECT_FALSE(judging.also_off) << spec.name << " would hold in another way elsewhere";
      EXPECT_FALSE(spec.always_on) << spec.name << " would be off elsewhere";
    }
  }
}

}  // namespace
}  // namespace panup
