/// What a consent that nobody has named would gain over the plan that does without it.

#include <gtest/gtest.h>

#include <algorithm>

#include "plan/explain.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

/// Two locomotives with one single-strip pantograph each, 19 m apart where the design type asks for
/// 20 m: one of the two goes dead in tow, unless there is a consent.
Scenario one_dead_for_want_of_consent() {
  const Roof roof{.strips = 1, .supplies = {EnergySupply::dc_1500v}};
  Scenario scenario =
      Scenario().add(one_pantograph_locomotive(roof)).add(one_pantograph_locomotive(roof));
  scenario.section().supply = EnergySupply::dc_1500v;
  scenario.section().design_type = DesignType::a;
  return scenario;
}

std::string gain_of(const Plan& plan) {
  const auto note = std::ranges::find_if(plan.notes, [](const std::string& one) {
    return one.find("does without a consent") != std::string::npos;
  });
  return note == plan.notes.end() ? std::string() : *note;
}

std::size_t told_on(const PlannedSection& section) {
  return static_cast<std::size_t>(
      std::ranges::count_if(section.findings, [](const Finding& finding) {
        return finding.strength == Strength::note &&
               finding.text.starts_with(
                   "With a consent of the infrastructure manager: 1.1 and 2.1 up, ");
      }));
}

TEST(ConsentGain, IsToldForTheWholeAndOnEachSectionWhereOneWouldBeUsed) {
  Scenario scenario = one_dead_for_want_of_consent();
  scenario.cut_at(10);
  scenario.cut_at(15).line_speed_kmh = 100;
  const Plan plan = scenario.plan();
  // Alone or not, a single strip may run at 40 km/h: no time is gained.
  EXPECT_EQ(gain_of(plan),
            "The plan does without a consent that nobody has named. With consents of the "
            "infrastructure manager for sections s1, s2 and s3, fewer locomotives would go dead in "
            "tow: see there.");
  for (const PlannedSection& section : plan.sections) {
    EXPECT_EQ(told_on(section), 1U) << section.from_km;
  }
}

TEST(ConsentGain, IsToldWhereTheConsentIsWantedAndNotElsewhere) {
  Scenario scenario = one_dead_for_want_of_consent();
  scenario.cut_at(10);
  scenario.section().records = {{.number = 2, .distance_m = 19, .speed_kmh = 80}};
  scenario.rule("single-strip-speed").on = false;
  const Plan plan = scenario.plan();
  EXPECT_NE(gain_of(plan).find("for section s2, "), std::string::npos) << gain_of(plan);
  for (const PlannedSection& section : plan.sections) {
    EXPECT_EQ(told_on(section), section.from_km < 10 ? 0U : 1U) << section.from_km;
  }
}

TEST(ConsentGain, SaysWhatItCostsInTimeAsThePlanWithTheConsentDoes) {
  // Alone the train runs at line speed; with both up at 80 km/h, which is a little more than a
  // second less than 80.12 km/h over the 20 km.
  for (const double line_kmh : {120.0, 80.12}) {
    Scenario scenario = one_dead_for_want_of_consent();
    scenario.rule("single-strip-speed").on = false;
    scenario.section().line_speed_kmh = line_kmh;
    const Plan without = scenario.plan();
    scenario.request.train.consents = {consent_for(2, 19, 80)};
    const Plan with = scenario.plan();
    ASSERT_EQ(up_on(with), "U1 U2");
    const double more_s = with.running_time_s - without.running_time_s;
    ASSERT_GT(more_s, 1);
    EXPECT_EQ(more_s < 2, line_kmh < 120);
    const std::string words =
        "fewer locomotives would go dead in tow (" + seconds_words(more_s) + " more running time)";
    EXPECT_NE(gain_of(without).find(words), std::string::npos) << gain_of(without) << words;
  }
}

}  // namespace
}  // namespace panup::scenario
