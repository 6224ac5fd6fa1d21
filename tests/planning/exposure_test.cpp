/// Which loads are left unprotected, and whether practice was kept.

#include <gtest/gtest.h>

#include <algorithm>

#include "scenario.h"

namespace panup::scenario {
namespace {

const std::vector<ExposedLoad>& petrol_by_the_rear_one() {
  static const std::vector<ExposedLoad> exposed{{"load", LoadNature::dangerous, {{1, 2}}}};
  return exposed;
}

const Finding& said_by(const PlannedSection& section, const std::string& rule) {
  return *std::ranges::find(section.findings, rule, &Finding::rule);
}

const Contingency& when_first_fails(const Plan& plan) {
  return *std::ranges::find(plan.contingencies, PantographRef{1, 1}, &Contingency::failed);
}

Scenario with_petrol() { return Scenario().add(locomotive()).load(LoadNature::dangerous); }

TEST(Exposure, AProtectedLoadIsNotExposed) {
  const PlannedSection section = with_petrol().plan().sections[0];
  EXPECT_TRUE(section.exposed.empty());
  EXPECT_EQ(said_by(section, "load-protected").kept, true);
}

TEST(Exposure, TheLoadIsExposedToWhatIsUpOnTheRearHalfAheadOfIt) {
  const PlannedSection section = with_petrol().defect({1, 1}).plan().sections[0];
  EXPECT_EQ(section.exposed, petrol_by_the_rear_one());
  EXPECT_EQ(said_by(section, "load-protected").kept, false);
}

TEST(Exposure, ALoadThatNoRuleProtectsIsNotExposed) {
  Scenario scenario = with_petrol().defect({1, 1});
  scenario.rule("load-protected").on = false;
  EXPECT_TRUE(scenario.plan().sections[0].exposed.empty());
}

TEST(Exposure, AFailureSaysWhatIsExposedByWhatGoesUpInstead) {
  const Plan plan = with_petrol().plan();
  const Contingency& contingency = when_first_fails(plan);
  EXPECT_EQ(contingency.sections[0].exposed, petrol_by_the_rear_one()) << "from the start";
  ASSERT_EQ(contingency.on_the_road.size(), 1U);
  EXPECT_EQ(contingency.on_the_road[0].exposed, petrol_by_the_rear_one());
  EXPECT_TRUE(contingency.on_the_road[0].text.ends_with(
      "The dangerous load (load) is exposed to dust and sparks of 1.2."))
      << contingency.on_the_road[0].text;
}

TEST(Exposure, AReversalChangesWhatAFailureExposes) {
  // After the reversal the working locomotive is behind the load, and dust flies away from it.
  Scenario scenario = with_petrol().add(locomotive());
  scenario.dead(2);
  scenario.request.route.stops = {{.name = "Turn", .at_km = 10, .reversal = true, .place = {}}};
  const Plan plan = scenario.plan();
  const std::vector<RoadFailure>& failures = when_first_fails(plan).on_the_road;
  ASSERT_EQ(failures.size(), 2U);
  EXPECT_EQ(failures[0].exposed, petrol_by_the_rear_one());
  EXPECT_EQ(failures[0].to_km, 10);
  EXPECT_TRUE(failures[1].exposed.empty());
  EXPECT_EQ(failures[1].from_km, 10);
}

TEST(Kept, ThePatternIsKeptOrIsNotAndHasTheStrengthOfItsRule) {
  const Scenario alone = Scenario().add(locomotive()).load(LoadNature::ordinary);
  const Finding kept = said_by(alone.plan().sections[0], "rear-alone");
  EXPECT_EQ(kept.strength, Strength::prescribed);
  EXPECT_EQ(kept.kept, true);
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::dangerous);
  scenario.vehicle(1).kept_up = {2};
  const Finding departed = said_by(scenario.plan().sections[0], "front-before-another");
  EXPECT_EQ(departed.strength, Strength::prescribed);
  EXPECT_EQ(departed.kept, false);
}

TEST(Kept, WhatIsKeptIsNoLastResortHoweverStrongTheRule) {
  Scenario scenario = with_petrol();
  for (const Strength strength : {Strength::last_resort, Strength::forbidden}) {
    scenario.rule("load-protected").strength = strength;
    const Finding kept = said_by(scenario.plan().sections[0], "load-protected");
    EXPECT_EQ(kept.strength, Strength::prescribed);
    EXPECT_EQ(kept.kept, true);
  }
  scenario.rule("load-protected").strength = Strength::last_resort;
  const Finding departed = said_by(scenario.defect({1, 1}).plan().sections[0], "load-protected");
  EXPECT_EQ(departed.strength, Strength::last_resort);
  EXPECT_EQ(departed.kept, false);
}

TEST(Kept, ASpeedIsNoPracticeToKeep) {
  const PlannedSection section = with_petrol().plan().sections[0];
  EXPECT_EQ(said_by(section, section.speed_rule).kept, std::nullopt);
}

}  // namespace
}  // namespace panup::scenario
