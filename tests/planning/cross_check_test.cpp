/// What train, route and rule books, each sound by itself, get wrong together; and findings that
/// must speak of nobody else.

#include <gtest/gtest.h>

#include <algorithm>

#include "scenario.h"

namespace panup::scenario {
namespace {

std::string mistake_in(const PlanRequest& request) {
  const Diagnostics diagnostics = cross_check(request);
  return diagnostics.size() == 1 ? diagnostics.front().text : std::string();
}

TEST(CrossCheck, ATrainDepartsOnTheRouteAndTheMessageSaysHowFarThatGoes) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.cut_at(10);
  for (const double km : {-1.0, 20.0}) {
    scenario.request.route.departs_km = km;
    EXPECT_NE(mistake_in(scenario.request).find("the route runs from km 0 to 20"),
              std::string::npos)
        << mistake_in(scenario.request);
  }
  scenario.request.route.departs_km = 19.9;
  EXPECT_TRUE(cross_check(scenario.request).empty());
}

TEST(CrossCheck, WithoutItsRuleTheMechanicsCannotBeAskedAndTheRuleIsNamed) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.speed_from = SpeedFrom::both;
  EXPECT_TRUE(cross_check(scenario.request).empty());
  scenario.rule("speed-by-mechanics").on = false;
  EXPECT_NE(mistake_in(scenario.request).find("no rule of kind 'speed-by-mechanics' is in force"),
            std::string::npos)
      << mistake_in(scenario.request);
  scenario.request.speed_from = SpeedFrom::tables;
  EXPECT_TRUE(cross_check(scenario.request).empty());
}

TEST(CrossCheck, WhereNothingIsPassedLoweredNoSpeedForItIsAskedFor) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.rule("change-while-lowered").numbers.clear();
  EXPECT_TRUE(cross_check(scenario.request).empty());
  scenario.request.route.lowered = {{.name = "Works", .from_km = 9, .to_km = 9.2, .place = {}}};
  EXPECT_EQ(cross_check(scenario.request).size(), 2U) << "to lower at, and to raise at";
}

TEST(CrossCheck, TheRouteNeitherBeginsNorEndsWherePantographsAreDown) {
  Scenario scenario = Scenario().add(locomotive());
  for (const auto& [from_km, to_km] : {std::pair(0.0, 0.2), {19.8, 20.0}, {19.9, 20.5}}) {
    scenario.request.route.lowered = {
        {.name = "Works", .from_km = from_km, .to_km = to_km, .place = {}}};
    EXPECT_NE(mistake_in(scenario.request).find("neither begin nor end in it"), std::string::npos)
        << from_km << ": " << mistake_in(scenario.request);
  }
  scenario.request.route.lowered = {{.name = "Works", .from_km = 0.1, .to_km = 19.9, .place = {}}};
  EXPECT_TRUE(cross_check(scenario.request).empty());
}

TEST(FindingsOfARefusal, SpeakOfNoVehicleThatIsDeadInTow) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).dead(2);
  scenario.section().permitted_head_widths_mm = {1450};
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.answer, Answer::none);
  const std::vector<Finding>& said = plan.sections.front().findings;
  const auto speaks_of = [&said](std::string_view words) {
    return std::ranges::any_of(said, [&](const Finding& finding) {
      return finding.text.find(words) != std::string::npos;
    });
  };
  EXPECT_TRUE(speaks_of("1.1"));
  EXPECT_FALSE(speaks_of("2.1"));
  EXPECT_FALSE(speaks_of("2.2"));
}

TEST(FindingsOfThePattern, OfAVehicleThatKeepsToItThereIsNoReasonToTell) {
  const auto asks_why_not = [](const Plan& plan) {
    return std::ranges::any_of(plan.sections.front().findings, [](const Finding& finding) {
      return finding.text.starts_with("Why not ");
    });
  };
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  EXPECT_FALSE(asks_why_not(scenario.plan()));
  EXPECT_FALSE(asks_why_not(scenario.defect({1, 1}).plan())) << "what is defective is no question";
}

}  // namespace
}  // namespace panup::scenario
