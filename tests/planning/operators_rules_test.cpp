/// Rules of an operator that hold on some lines, for some classes or loads; and consents that count
/// on some days. All figures are invented.

#include <gtest/gtest.h>

#include <algorithm>

#include "scenario.h"

namespace panup::scenario {
namespace {

/// Line 7 up to km 8, then line 8, then line 7 again from km 14.
Scenario on_lines_7_8_7() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  std::vector<Section>& sections = scenario.request.route.sections;
  sections[0].to_km = 8;
  sections[0].line = "7";
  Section next = sections[0];
  next.id = "s2";
  next.line = "8";
  next.from_km = 8;
  next.to_km = 14;
  sections.push_back(next);
  next.id = "s3";
  next.line = "7";
  next.from_km = 14;
  next.to_km = 20;
  sections.push_back(next);
  return scenario;
}

Rule snow(double speed_kmh, const OnlyFor& only_for) {
  Rule rule;
  rule.id = "snow";
  rule.kind = RuleKind::speed_restriction;
  rule.strength = Strength::speed_limit;
  rule.numbers["speed_kmh"] = speed_kmh;
  rule.only_for = only_for;
  return rule;
}

/// What the rules permit where the front is.
double permitted_at(const Plan& plan, double km) {
  const auto section = std::ranges::find_if(plan.sections, [km](const PlannedSection& planned) {
    return planned.from_km <= km && km <= planned.to_km;
  });
  return section->permitted_speed_kmh;
}

bool notes(const Plan& plan, const std::string& note) {
  return std::ranges::find(plan.notes, note) != plan.notes.end();
}

TEST(InSnow, AtMostEightyOnLineSevenAndTheLineSpeedOnLineEight) {
  Scenario scenario = on_lines_7_8_7();
  scenario.request.rules.rules.push_back(snow(80, {.lines = {"7"}}));
  const Plan plan = scenario.plan();
  EXPECT_EQ(permitted_at(plan, 4), 80);
  EXPECT_EQ(permitted_at(plan, 13.9), 120);
  EXPECT_EQ(permitted_at(plan, 17), 80);
}

TEST(InSnow, TheRestrictionHoldsUntilTheWholeTrainHasLeftTheLine) {
  Scenario scenario = on_lines_7_8_7();
  scenario.request.rules.rules.push_back(snow(80, {.lines = {"7"}}));
  const Plan plan = scenario.plan();
  const double tail_past_km = 8 + length_m(scenario.request.train) / 1000;
  for (const PlannedSection& section : plan.sections) {
    const bool tail_is_on_line_7 = section.from_km < tail_past_km - 1e-6;
    if (tail_is_on_line_7) {
      EXPECT_LE(section.speed_kmh, 80) << section.from_km;
    }
  }
}

TEST(InSnow, AfterATurnTheRestrictionHoldsForTheRestOfTheTrain) {
  Scenario scenario = on_lines_7_8_7();
  scenario.request.rules.rules.push_back(snow(50, {.lines = {"7"}}));
  scenario.request.route.stops = {{.name = "Turn", .at_km = 8, .reversal = true, .place = {}}};
  const Plan plan = scenario.plan();
  const double left_km = 8 + length_m(scenario.request.train) / 1000;
  double until_km = 0;
  for (const PlannedSection& section : plan.sections) {
    if (section.from_km >= 8 && section.from_km < 14 && section.speed_kmh <= 50) {
      until_km = std::max(until_km, section.to_km);
      EXPECT_NE(section.speed_reason.find("only for line 7 under the rest of the train"),
                std::string::npos)
          << section.speed_reason;
    }
  }
  EXPECT_NEAR(until_km, left_km, 0.001);
}

TEST(InSnow, OnlyTheClassAndTheLoadThatItIsForAreHeldBack) {
  const auto permitted = [](const OnlyFor& only_for) {
    Scenario scenario = on_lines_7_8_7();
    scenario.request.rules.rules.push_back(snow(80, only_for));
    return permitted_at(scenario.plan(), 4);
  };
  const std::string own = Scenario().add(locomotive()).vehicle(1).type->id;
  EXPECT_EQ(permitted({.classes = {own}}), 80);
  EXPECT_EQ(permitted({.classes = {own + "x"}}), 120);
  EXPECT_EQ(permitted({.loads = {"ordinary"}}), 80);
  EXPECT_EQ(permitted({.loads = {"dangerous"}}), 120);
}

TEST(InSnow, ARuleThatHoldsNowhereIsNamed) {
  Scenario scenario = on_lines_7_8_7();
  scenario.request.rules.rules.push_back(snow(80, {.lines = {"77"}}));
  const std::string note =
      "Rules that hold nowhere for this train on this route: snow (only for line 77).";
  EXPECT_TRUE(notes(scenario.plan(), note));
  scenario.rule("snow").on = false;
  EXPECT_FALSE(notes(scenario.plan(), note));
}

TEST(OnALineOfItsOwn, ThePatternThatIsPrescribedThereIsTheOneThatIsNamed) {
  Scenario scenario = on_lines_7_8_7();
  // On line 8 the front one is prescribed, by a rule of the operator's own.
  Rule front_on_8 = *std::ranges::find_if(scenario.request.rules.rules, [](const Rule& rule) {
    return rule.kind == RuleKind::prescribed_position && rule.words.at("place") == "last";
  });
  for (Rule& rule : scenario.request.rules.rules) {
    if (rule.kind == RuleKind::prescribed_position) {
      rule.only_for.lines = {"7"};
    }
  }
  front_on_8.id = "front-on-8";
  front_on_8.words["position"] = "front";
  front_on_8.only_for.lines = {"8"};
  scenario.request.rules.rules.push_back(front_on_8);
  scenario.request.route.stops = {{.name = "Border", .at_km = 8, .reversal = false, .place = {}},
                                  {.name = "Back", .at_km = 14, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  const auto up_at = [&](double km) {
    for (std::size_t i = 0; i < plan.sections.size(); ++i) {
      if (plan.sections[i].from_km <= km && km <= plan.sections[i].to_km) {
        return up_on(plan, i);
      }
    }
    return std::string();
  };
  EXPECT_EQ(up_at(4), "R1");
  EXPECT_EQ(up_at(11), "F1");
  EXPECT_EQ(up_at(17), "R1");
}

Consent consent(const std::string& reference, const std::string& file) {
  Consent given;
  given.reference = reference;
  given.given_by = "Nordvale Infrastructure";
  given.number = 2;
  given.distance_m = 5;
  given.speed_kmh = 60;
  given.file = file;
  return given;
}

TEST(ConsentsOfAFile, ThatCountAreNamedInThePlan) {
  Scenario scenario = on_lines_7_8_7();
  scenario.request.train.consent_files = {"consents.toml", "more.toml"};
  scenario.request.train.consents = {consent("NV-1", "consents.toml"),
                                     consent("NV-2", "consents.toml"),
                                     consent("NV-3", "consents.toml"), consent("NV-4", "")};
  scenario.request.train.consents[2].sections = {"z9"};
  const Plan plan = scenario.plan();
  EXPECT_TRUE(notes(plan,
                    "Consents of consents.toml that count for this train: NV-1 of Nordvale "
                    "Infrastructure, NV-2 of Nordvale Infrastructure."));
  EXPECT_TRUE(notes(plan, "No consent of more.toml counts for this train on this route."));
}

TEST(ConsentsOfAFile, ThatDoNotCountAreNamedWithTheReason) {
  Scenario scenario = on_lines_7_8_7();
  scenario.request.train.consents_left_out = {
      {consent("NV-1", ""), "it holds until 2031-05-31, and the train runs on 2031-06-01"}};
  EXPECT_TRUE(notes(scenario.plan(),
                    "Consent NV-1 of Nordvale Infrastructure does not count: it holds until "
                    "2031-05-31, and the train runs on 2031-06-01."));
}

}  // namespace
}  // namespace panup::scenario
