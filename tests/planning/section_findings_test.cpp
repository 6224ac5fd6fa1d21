/// Findings of a section put in order, and what a plan carries beside them.

#include "plan/section_findings.h"

#include <gtest/gtest.h>

#include "base/handed_out.h"
#include "plan/explain.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

TEST(Findings, AreSaidOnceByEachRule) {
  const auto said = [](const char* rule, Strength strength, const char* text) {
    Finding finding;
    finding.rule = rule;
    finding.strength = strength;
    finding.text = text;
    return finding;
  };
  std::vector<Finding> findings{
      said("b", Strength::note, "Said."), said("a", Strength::note, "Said."),
      said("a", Strength::note, "Said."), said("a", Strength::forbidden, "Not so.")};
  tidy(findings);
  ASSERT_EQ(findings.size(), 3U);
  EXPECT_EQ(findings[0].text, "Not so.") << "the strongest first";
  EXPECT_EQ(findings[1].rule, "b");
  EXPECT_EQ(findings[2].rule, "a");
}

TEST(Findings, WhereNoRuleLimitsTheSpeedNoneDecidesIt) {
  Rule rule;
  rule.id = "a";
  std::vector<Finding> findings(1);
  findings.front().rule = "a";
  findings.front().strength = Strength::speed_limit;
  Verdict verdict;
  EXPECT_EQ(deciding_finding(verdict, findings), nullptr);
  verdict.speed_rule = &rule;
  EXPECT_EQ(deciding_finding(verdict, findings), findings.data());
}

TEST(APlan, CarriesItsCautionsAndWhatTheRuleBooksOverride) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.rules.overrides.resize(2);
  scenario.request.rules.overrides[1].id = "ice-speed";
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.cautions, cautions());
  EXPECT_FALSE(plan.cautions.empty());
  ASSERT_EQ(plan.overrides.size(), 2U);
  EXPECT_EQ(plan.overrides[1].id, "ice-speed");
}

TEST(TimeWords, AreInMinutesFromAMinuteOn) {
  EXPECT_EQ(seconds_words(59.4), "59 s");
  EXPECT_EQ(seconds_words(60), "1 min 0 s");
  EXPECT_EQ(seconds_words(-61), "1 min 1 s");
}

}  // namespace
}  // namespace panup::scenario
