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

void add_section(Scenario& scenario, const std::string& id, double line_speed_kmh) {
  Section next = scenario.section();
  Section& last = scenario.request.route.sections.back();
  next.id = id;
  next.from_km = (last.from_km + last.to_km) / 2;
  next.to_km = last.to_km;
  next.line_speed_kmh = line_speed_kmh;
  last.to_km = next.from_km;
  scenario.request.route.sections.push_back(next);
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
  add_section(scenario, "s2", 120);
  add_section(scenario, "s3", 100);
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
  add_section(scenario, "s2", 120);
  scenario.section().records = {{.number = 2, .distance_m = 19, .speed_kmh = 80}};
  scenario.rule("single-strip-speed").on = false;
  const Plan plan = scenario.plan();
  EXPECT_NE(gain_of(plan).find("for section s2, "), std::string::npos) << gain_of(plan);
  for (const PlannedSection& section : plan.sections) {
    EXPECT_EQ(told_on(section), section.from_km < 10 ? 0U : 1U) << section.from_km;
  }
}

TEST(ConsentGain, SaysWhatItCostsInTimeAsThePlanWithTheConsentDoes) {
  Scenario scenario = one_dead_for_want_of_consent();
  scenario.rule("single-strip-speed").on = false;
  const Plan without = scenario.plan();
  Consent consent;
  consent.reference = "C-1";
  consent.given_by = "the manager";
  consent.number = 2;
  consent.distance_m = 19;
  consent.speed_kmh = 80;
  scenario.request.train.consents = {consent};
  const Plan with = scenario.plan();
  ASSERT_EQ(up_on(with), "U1 U2");
  ASSERT_GT(with.running_time_s, without.running_time_s + 1);
  const std::string words = "fewer locomotives would go dead in tow (" +
                            seconds_words(with.running_time_s - without.running_time_s) +
                            " more running time)";
  EXPECT_NE(gain_of(without).find(words), std::string::npos) << gain_of(without) << words;
}

}  // namespace
}  // namespace panup::scenario
