#include <gtest/gtest.h>

#include <algorithm>

#include "plan/why_not.h"
#include "scenario.h"

/// Separation sections passed with pantographs up, as the plan sees them. Source: common practice,
/// no published source: no live zone is joined with another or with earth; what follows for a plan
/// is derived.

namespace panup::scenario {

namespace {

/// Passed with pantographs up, at km 10.
SeparationSection phase_separation(double length_m,
                                   LengthMeaning meaning = LengthMeaning::not_stated) {
  SeparationSection section;
  section.name = "The separation";
  section.kind = SeparationKind::phase;
  section.from_km = 10;
  section.length_m = length_m;
  section.length_meaning = meaning;
  return section;
}

SeparationSection long_one() {
  SeparationSection section = phase_separation(402);
  section.zones = {zone(ZoneKind::live, -endless, 0, "R"), zone(ZoneKind::neutral, -2, 404),
                   zone(ZoneKind::live, 402, endless, "S")};
  return section;
}

SeparationSection short_one() {
  SeparationSection section = phase_separation(7.5);
  section.zones = {zone(ZoneKind::live, -endless, 0, "R"), zone(ZoneKind::neutral, 0, 2.5),
                   zone(ZoneKind::earthed, 2.5, 5), zone(ZoneKind::neutral, 5, 7.5),
                   zone(ZoneKind::live, 7.5, endless, "S")};
  return section;
}

std::shared_ptr<const VehicleType> with_roof_line(const std::shared_ptr<const VehicleType>& type,
                                                  bool can_be_opened = false) {
  auto changed = std::make_shared<VehicleType>(*type);
  changed->roof_line = true;
  changed->roof_line_can_be_opened = can_be_opened;
  return changed;
}

/// Two contact points are wanted, and both pantographs are joined on the roof.
Scenario single_strips(const SeparationSection& section, bool can_be_opened = false) {
  Scenario scenario;
  scenario.add(with_roof_line(locomotive({.strips = 1}), can_be_opened));
  scenario.permits(4);
  scenario.request.route.separations.push_back(section);
  return scenario;
}

const Finding* finding(const Plan& plan, const std::string& rule) {
  for (const PlannedSection& section : plan.sections) {
    const auto found = std::ranges::find(section.findings, rule, &Finding::rule);
    if (found != section.findings.end()) {
      return &*found;
    }
  }
  return nullptr;
}

TEST(Separation, ALongOneIsPassedWithAJoinedPairAndThatIsSaid) {
  const Plan plan = single_strips(long_one()).plan();
  ASSERT_EQ(plan.sections.size(), 1U);
  EXPECT_EQ(up_on(plan), "F1 R1");
  const Finding* const said = finding(plan, "zones-joined");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::note);
  EXPECT_NE(said->text.find("may stay up"), std::string::npos) << said->text;
  EXPECT_NE(said->text.find("0.8 m is assumed"), std::string::npos) << said->text;
  ASSERT_EQ(plan.separation_moments.size(), 1U) << "it is shown, once, where it decides";
  Scenario stands = single_strips(long_one());
  stands.request.route.stops = {{.name = "Stop", .at_km = 10.2, .reversal = false, .place = {}}};
  stands.rule("standing-at-a-stop").on = false;
  EXPECT_EQ(stands.plan().separation_moments.size(), 1U) << "also where the train stands in it";
  Scenario departs = single_strips(long_one());
  departs.request.route.departs_km = 10.415;
  departs.rule("standing-at-a-stop").on = false;
  EXPECT_EQ(departs.plan().separation_moments.size(), 1U) << "also where it departs from it";
}

TEST(Separation, AShortOneIsNotPassedWithAJoinedPair) {
  Scenario scenario = single_strips(short_one());
  scenario.rule("coasting").on = false;  // what the train runs on by is not stated
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections.front().raised.size(), 1U);
}

TEST(Separation, WhyNotTheJoinedPairIsToldWithZonesPlaceAndRemedy) {
  const Scenario scenario = single_strips(short_one(), true);
  const Plan plan = scenario.plan();
  const auto why = why_not(scenario.request, plan, {{1, 1}, {1, 2}}, 10.005);
  ASSERT_TRUE(why);
  EXPECT_EQ(why->answer, Answer::none);
  EXPECT_NE(why->summary.find("joins phase R with the earthed zone through 1.2, the roof line of "
                              "locomotive 1 and 1.1"),
            std::string::npos)
      << why->summary;
  EXPECT_NE(why->summary.find("It passes if the roof line of locomotive 1 is opened, or if 1.1 is "
                              "lowered, or if 1.2 is lowered."),
            std::string::npos)
      << why->summary;
  // Away from the section nothing speaks against it.
  const auto elsewhere = why_not(scenario.request, plan, {{1, 1}, {1, 2}}, 3);
  ASSERT_TRUE(elsewhere);
  EXPECT_EQ(elsewhere->answer, Answer::permitted);
}

TEST(Separation, TheTrainIsInItUntilItsRearIsThrough) {
  Scenario scenario = single_strips(short_one());
  scenario.load(LoadNature::ordinary, 300);
  const Plan plan = scenario.plan();
  const auto answer_at = [&](double km) {
    return why_not(scenario.request, plan, {{1, 1}, {1, 2}}, km)->answer;
  };
  EXPECT_EQ(answer_at(9.999), Answer::permitted);
  EXPECT_EQ(answer_at(10.001), Answer::none);
  EXPECT_EQ(answer_at(10.3), Answer::none);
  EXPECT_EQ(answer_at(10.33), Answer::permitted);
}

TEST(Separation, WhereNothingPassesOnlyTheSeparationIsWithoutAnAnswer) {
  SeparationSection section = phase_separation(0.5);
  section.zones = {zone(ZoneKind::live, -endless, 0, "R"), zone(ZoneKind::insulator, 0, 0.5),
                   zone(ZoneKind::live, 0.5, endless, "S")};
  Scenario scenario;
  scenario.add(locomotive()).permits(2);
  scenario.request.route.separations.push_back(section);
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  ASSERT_EQ(plan.sections.size(), 3U);
  EXPECT_EQ(plan.sections[0].answer, Answer::permitted);
  EXPECT_EQ(plan.sections[1].answer, Answer::none);
  EXPECT_EQ(plan.sections[2].answer, Answer::permitted);
  EXPECT_DOUBLE_EQ(plan.sections[1].from_km, 10);
  EXPECT_NEAR(plan.sections[1].to_km, 10.0195, 1e-9);
  EXPECT_TRUE(says(plan.sections[1], "zones-joined", Strength::forbidden));
}

TEST(Separation, WhereTheTrainDepartsOverOneAndNothingPassesThePlanSaysSo) {
  Scenario scenario = single_strips(short_one());
  scenario.section().permitted_head_widths_mm = {1450};
  scenario.request.route.departs_km = 10.01;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_TRUE(says(plan.sections.front(), "head-fit", Strength::forbidden));
  EXPECT_TRUE(plan.separation_moments.empty());
}

TEST(Separation, OfWhatComesToItOnlyWhatTheSeparationForbidsIsSaid) {
  // Both are up before it, and neither alone is enough; it lets nothing pass.
  SeparationSection section = phase_separation(0.5);
  section.zones = {zone(ZoneKind::live, -endless, 0, "R"), zone(ZoneKind::insulator, 0, 0.5),
                   zone(ZoneKind::live, 0.5, endless, "S")};
  const Plan plan = single_strips(section).plan();
  ASSERT_EQ(plan.sections.size(), 3U);
  ASSERT_EQ(plan.sections[1].answer, Answer::none);
  EXPECT_EQ(up_on(plan), "F1 R1");
  for (const Finding& finding : plan.sections[1].findings) {
    EXPECT_EQ(finding.strength, Strength::forbidden) << finding.rule << ": " << finding.text;
  }
}

TEST(Separation, PantographsOfTwoLocomotivesAreNotJoinedUnlessAHighVoltageLineIsStated) {
  Scenario scenario;
  scenario.add(one_pantograph_locomotive()).add(one_pantograph_locomotive()).permits(2);
  scenario.request.route.separations.push_back(short_one());
  EXPECT_EQ(up_on(scenario.plan()), "U1 U2");
  scenario.request.train.high_voltage_lines.push_back(
      {.vehicles = {1, 2}, .can_be_opened = false, .place = {}});
  const Plan plan = scenario.plan();
  // One goes dead in tow rather than that live wire is earthed.
  EXPECT_EQ(plan.sections.front().raised.size(), 1U);
  EXPECT_EQ(plan.sections.front().put_dead_in_tow.size(), 1U);
}

std::shared_ptr<const VehicleType> with_unknown_coupler() {
  auto type = std::make_shared<VehicleType>(*one_pantograph_locomotive());
  type->high_voltage_coupler.reset();
  return type;
}

TEST(Separation, WhereALineBetweenVehiclesWouldMatterAndNothingIsSaidOfItConsentIsNeeded) {
  for (const bool zones_stated : {true, false}) {
    Scenario scenario;
    scenario.add(with_unknown_coupler()).add(with_unknown_coupler()).permits(2);
    scenario.rule("runnable-first").on = false;
    scenario.request.route.separations.push_back(
        zones_stated ? short_one() : phase_separation(18, LengthMeaning::minimum_between_inner));
    const Plan plan = scenario.plan();
    EXPECT_EQ(plan.answer, Answer::consent_needed);
    const Finding* const said = finding(plan, "separation-unknown");
    ASSERT_NE(said, nullptr);
    EXPECT_NE(said->text.find("a high-voltage line between vehicles 1 and 2 is not stated"),
              std::string::npos)
        << said->text;
  }
}

TEST(Separation, WhereALineBetweenVehiclesWouldDoNoHarmNothingNeedBeSaidOfIt) {
  Scenario scenario;
  scenario.add(with_unknown_coupler()).add(with_unknown_coupler()).permits(2);
  scenario.request.route.separations.push_back(long_one());
  scenario.rule("coasting").on = false;  // what the train runs on by is not stated
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  const Finding* const said = finding(plan, "zones-joined");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("The same holds with a high-voltage line between vehicles 1 and 2"),
            std::string::npos)
      << said->text;
}

TEST(Separation, AMinimumBetweenInnerStripsIsKept) {
  Scenario scenario;
  scenario.add(one_pantograph_locomotive()).add(one_pantograph_locomotive()).permits(2);
  scenario.request.route.separations.push_back(
      phase_separation(18, LengthMeaning::minimum_between_inner));
  EXPECT_EQ(up_on(scenario.plan()), "U1 U2");  // 19 m apart, strips over 0.8 m: 18.2 m
  scenario.request.route.separations.back().length_m = 18.3;
  EXPECT_EQ(scenario.plan().sections.front().raised.size(), 1U);
}

TEST(Separation, AMaximumBetweenOuterStripsIsKept) {
  Scenario scenario;
  scenario.add(one_pantograph_locomotive()).add(one_pantograph_locomotive()).permits(2);
  scenario.request.route.separations.push_back(
      phase_separation(20, LengthMeaning::maximum_between_outer));
  EXPECT_EQ(up_on(scenario.plan()), "U1 U2");  // 19.8 m
  scenario.request.route.separations.back().length_m = 19.7;
  EXPECT_EQ(scenario.plan().sections.front().raised.size(), 1U);
}

TEST(Separation, OfWhichNothingIsKnownMoreThanOnePantographNeedsConsent) {
  Scenario scenario;
  scenario.add(one_pantograph_locomotive()).add(one_pantograph_locomotive()).permits(2);
  scenario.request.route.separations.push_back(phase_separation(120));
  scenario.rule("runnable-first").on = false;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  const auto said = std::ranges::find_if(plan.sections, [](const PlannedSection& section) {
    return says(section, "separation-unknown", Strength::consent_needed);
  });
  EXPECT_NE(said, plan.sections.end());
  scenario.rule("separation-unknown").strength = Strength::forbidden;
  EXPECT_EQ(scenario.plan().sections.front().raised.size(), 1U);
  scenario.rule("separation-unknown").on = false;
  EXPECT_EQ(up_on(scenario.plan()), "U1 U2");
}

TEST(Separation, WhoseZonesAreNotToBeLookedAtIsAsGoodAsUnknown) {
  Scenario scenario = single_strips(long_one());
  scenario.rule("runnable-first").on = false;
  scenario.rule("zones-joined").on = false;
  EXPECT_TRUE(scenario.plan().answer == Answer::consent_needed);
}

TEST(Separation, OfWhichNothingIsKnownOnePantographPasses) {
  Scenario scenario;
  scenario.add(locomotive()).permits(2);
  scenario.request.route.separations.push_back(phase_separation(120));
  scenario.rule("coasting").on = false;  // what the train runs on by is not stated
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_TRUE(says(plan.sections.front(), "separation-length", Strength::note));
}

TEST(Separation, PassedWithPantographsDownIsNotLookedAt) {
  SeparationSection section = short_one();
  section.pantograph_lowered = true;
  const Plan plan = single_strips(section).plan();
  EXPECT_EQ(plan.sections.front().raised.size(), 2U);
  EXPECT_EQ(finding(plan, "zones-joined"), nullptr);
}

TEST(Separation, ThatLetsEverythingPassCostsNoTime) {
  Scenario without;
  without.add(locomotive()).load(LoadNature::ordinary).permits(2);
  Scenario with = without;
  with.request.route.separations.push_back(long_one());
  const Plan plan = with.plan();
  EXPECT_EQ(plan.sections.size(), 1U);
  EXPECT_NEAR(plan.running_time_s, without.plan().running_time_s, 0.002);
}

TEST(Separation, ATrainThatTurnsRoundWithItsRearInItIsNotedAsNotChecked) {
  Scenario scenario = single_strips(long_one());
  scenario.load(LoadNature::ordinary, 300);
  scenario.request.route.stops.push_back(
      {.name = "Turning place", .at_km = 10.5, .reversal = true, .place = {}});
  const Plan plan = scenario.plan();
  EXPECT_TRUE(std::ranges::any_of(plan.notes, [](const std::string& note) {
    return note.starts_with("At Turning place the train turns round while some of it");
  }));
}

TEST(Separation, TheBreakerIsOpenWhereverStripsMayTouchTheNeutralWire) {
  Scenario scenario;
  scenario.add(locomotive()).permits(2);
  SeparationSection section = long_one();
  section.zones[1].from_m = -40;  // the neutral wire begins 40 m before the stated place
  section.zones[0].to_m = -38;
  scenario.request.route.separations.push_back(section);
  const Plan plan = scenario.plan();
  const auto off = std::ranges::find(plan.instructions, Action::breaker_off, &Instruction::action);
  ASSERT_NE(off, plan.instructions.end());
  EXPECT_LT(off->at_km, 9.96 + 0.0145);
}

TEST(Separation, StripsLongerThanAWholeZoneAreAMistakeInTheInput) {
  Scenario scenario;
  auto type = std::make_shared<PantographType>(*pantograph({}));
  type->strip_length_along_track_mm = 1200;
  auto vehicle = std::make_shared<VehicleType>(*locomotive());
  for (RoofPantograph& roof : vehicle->pantographs) {
    roof.type = type;
  }
  scenario.add(vehicle).permits(2);
  SeparationSection section = short_one();
  section.zones[2] = zone(ZoneKind::earthed, 2.5, 3.5);
  section.zones[3] = zone(ZoneKind::neutral, 3.5, 7.5);
  scenario.request.route.separations.push_back(section);
  const Diagnostics said = cross_check(scenario.request);
  ASSERT_EQ(said.size(), 1U);
  EXPECT_EQ(
      said.front().text,
      "the earthed zone of 'The separation' is 1 m long, but the contact strips of pantograph "
      "type 'test-pantograph' reach over 1.2 m along the track; one of the two is wrong");
}

}  // namespace

}  // namespace panup::scenario
