#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "scenario.h"

/// Running without power, and standing, as the plan sees them. Source: common practice, no
/// published source; the equation of motion is checked by itself.

namespace panup::scenario {

namespace {

SeparationSection at_km_10(bool lowered = false) {
  SeparationSection section;
  section.name = "Mosk phase separation";
  section.kind = SeparationKind::phase;
  section.from_km = 10;
  section.length_m = 150;
  section.pantograph_lowered = lowered;
  return section;
}

/// A locomotive of 80 t with 920 t behind it: 1000 t, 319 m, 10 kN at any speed.
Scenario heavy(double permille, const SeparationSection& section = at_km_10()) {
  Scenario scenario;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->running = {.mass_t = 80, .resistance = RunningResistance{1000, 0, 0}};
  scenario.add(type);
  scenario.load(LoadNature::ordinary, 300);
  std::get<LoadGroup>(scenario.request.train.consist.back()).running = {
      .mass_t = 920, .resistance = RunningResistance{9000, 0, 0}};
  scenario.request.route.separations.push_back(section);
  scenario.request.route.gradients = {
      {.from_km = 0, .to_km = 20, .permille = permille, .place = {}}};
  return scenario;
}

const Finding* finding(const std::vector<PlannedSection>& sections, const std::string& rule) {
  for (const PlannedSection& section : sections) {
    const auto found = std::ranges::find(section.findings, rule, &Finding::rule);
    if (found != section.findings.end()) {
      return &*found;
    }
  }
  return nullptr;
}

bool notes_say(const Plan& plan, std::string_view words) {
  return std::ranges::any_of(
      plan.notes, [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

TEST(CoastingInAPlan, ATrainThatGetsThroughHasItSaid) {
  const Plan plan = heavy(0).plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::note);
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_NE(said->text.find("Mosk phase separation: without power over "), std::string::npos)
      << said->text;
  EXPECT_NE(said->text.find("1.2 passes it in"), std::string::npos) << said->text;
  EXPECT_FALSE(notes_say(plan, "may come to a stand without power"));
}

TEST(CoastingInAPlan, TheRunIsFromBreakerOffToBreakerOn) {
  const Plan plan = heavy(0).plan();
  const auto km_of = [&](Action action) {
    return std::ranges::find_if(plan.instructions,
                                [action](const Instruction& instruction) {
                                  return instruction.action == action && instruction.at_km > 5;
                                })
        ->at_km;
  };
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  const long metres = std::lround(1000 * (km_of(Action::breaker_on) - km_of(Action::breaker_off)));
  EXPECT_NE(said->text.find("over " + std::to_string(metres) + " m"), std::string::npos)
      << said->text;
}

TEST(CoastingInAPlan, ATrainThatMayStandThereNeedsConsentAndAWayOutIsSaid) {
  Scenario scenario = heavy(30);
  scenario.section().line_speed_kmh = 30;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
  EXPECT_NE(said->text.find("it comes to a stand with its front at km"), std::string::npos)
      << said->text;
  EXPECT_NE(said->text.find("needs at least"), std::string::npos) << said->text;
  // It stands at km 10.088: the heads, 4.5 and 14.5 m behind, are both within km 10 to 10.15. The
  // rear one is clear up to 10 km + 14.5 m - 0.4 m, the front one from 10.15 km + 4.5 m + 0.4 m on.
  EXPECT_NE(said->text.find("no pantograph that is fit for it stands under live wire"),
            std::string::npos)
      << said->text;
  EXPECT_NE(said->text.find("short of km 10.014, 1.1 that behind it from km 10.155 on; in between "
                            "none reaches live wire"),
            std::string::npos)
      << said->text;
}

/// Two separation sections with no room to close the breaker between them.
Scenario two_in_one(double permille) {
  Scenario scenario = heavy(permille);
  SeparationSection second = at_km_10();
  second.name = "Second separation";
  second.from_km = 10.2;
  scenario.request.route.separations.push_back(second);
  scenario.section().line_speed_kmh = 30;
  return scenario;
}

TEST(CoastingInAPlan, ThroughSeveralInOneATrainThatMayStandThereIsNotOrdered) {
  const Plan plan = two_in_one(30).plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::forbidden);
  EXPECT_NE(said->text.find("Mosk phase separation and Second separation: "), std::string::npos)
      << said->text;
  EXPECT_EQ(plan.instructions.back().what, "Stop here at the latest");
  EXPECT_DOUBLE_EQ(plan.instructions.back().at_km, 10);
  EXPECT_EQ(two_in_one(0).plan().answer, Answer::permitted) << "on the level it gets through";
}

TEST(CoastingInAPlan, AConsentForCoastingIsForSeveralInOneToo) {
  Scenario scenario = two_in_one(30);
  Consent consent;
  consent.reference = "K 7";
  consent.given_by = "the infrastructure manager";
  consent.rule = "coasting";
  scenario.request.train.consents = {consent};
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
}

TEST(CoastingInAPlan, TheSpeedThatIsSaidToBeNeededIsEnoughAndOneLessIsNot) {
  const auto answer_at = [](double speed_kmh) {
    Scenario scenario = heavy(8);
    scenario.section().line_speed_kmh = speed_kmh;
    return scenario.plan().answer;
  };
  double least = 10;
  while (answer_at(least) != Answer::permitted) {
    ASSERT_LT(++least, 60);
  }
  EXPECT_GT(least, 20);
  Scenario slower = heavy(8);
  slower.section().line_speed_kmh = least - 1;
  const Plan plan = slower.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  const std::string needed = std::to_string(static_cast<int>(least));
  EXPECT_NE(said->text.find("at least " + needed + " km/h"), std::string::npos) << said->text;
}

TEST(CoastingInAPlan, AStandJustBeforeLeavesNoSpeedToGetThrough) {
  Scenario scenario = heavy(2);
  scenario.request.route.stops = {{.name = "Mosk", .at_km = 9.95, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
}

TEST(CoastingInAPlan, AStretchWithPantographsDownIsJudgedToo) {
  Scenario scenario = heavy(20, at_km_10(true));
  scenario.section().line_speed_kmh = 40;
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
}

TEST(CoastingInAPlan, TheFallbackIsJudgedToo) {
  Scenario scenario = heavy(30);
  scenario.section().line_speed_kmh = 30;
  const Plan plan = scenario.plan();
  ASSERT_FALSE(plan.contingencies.empty());
  EXPECT_EQ(plan.contingencies.back().answer, Answer::consent_needed);
  EXPECT_NE(finding(plan.contingencies.back().sections, "coasting"), nullptr);
}

Consent consent_for_rule(const std::string& rule) {
  return {.reference = "C-1",
          .given_by = "the manager",
          .rule = rule,
          .number = 0,
          .distance_m = 0,
          .speed_kmh = 0,
          .sections = {},
          .place = {}};
}

TEST(CoastingInAPlan, AConsentForItThatTheTrainFileNamesSettlesIt) {
  Scenario scenario = heavy(30);
  scenario.section().line_speed_kmh = 30;
  scenario.request.train.consents = {consent_for_rule("coasting")};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::note);
  EXPECT_NE(said->text.find("Consent C-1 of the manager covers it."), std::string::npos);
  EXPECT_EQ(said->rests_on, (ConsentNamed{"C-1", "the manager"}));
  scenario.request.train.consents[0].sections = {"s1"};
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
  scenario.request.train.consents = {consent_for_rule("standing-at-a-stop")};
  EXPECT_EQ(scenario.plan().answer, Answer::consent_needed);
}

TEST(CoastingInAPlan, AConsentForItSaysNothingOfRaisedPantographs) {
  Scenario scenario =
      Scenario().add(locomotive({.strips = 1, .supplies = {EnergySupply::dc_1500v}}));
  scenario.section().supply = EnergySupply::dc_1500v;
  scenario.section().design_type = DesignType::a;
  scenario.rule("runnable-first").on = false;
  const Answer without = scenario.plan().answer;
  scenario.request.train.consents = {consent_for_rule("coasting")};
  EXPECT_EQ(without, Answer::consent_needed);
  EXPECT_EQ(scenario.plan().answer, Answer::consent_needed);
}

TEST(CoastingInAPlan, AnOperatorMayTakeItForALastResortOrTurnItOff) {
  Scenario scenario = heavy(30);
  scenario.section().line_speed_kmh = 30;
  scenario.rule("coasting").strength = Strength::last_resort;
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
  scenario.rule("coasting").on = false;
  const Plan plan = scenario.plan();
  EXPECT_EQ(finding(plan.sections, "coasting"), nullptr);
  EXPECT_TRUE(notes_say(plan, "no rule for it is in force"));
}

/// That it is not known, with the strength of the rule, and the words.
void expect_not_known(const Scenario& scenario, const std::string& words) {
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
  EXPECT_NE(said->text.find("is not known: " + words), std::string::npos) << said->text;
  EXPECT_EQ(said->text.find("gets through"), std::string::npos) << said->text;
}

TEST(CoastingInAPlan, WithoutMassOrResistanceItIsNotKnownWhetherTheTrainGetsThrough) {
  Scenario scenario = heavy(0);
  std::get<LoadGroup>(scenario.request.train.consist.back()).running.mass_t.reset();
  expect_not_known(scenario, "mass or running resistance is not stated for load");
}

TEST(CoastingInAPlan, AGradientThatIsNotStatedIsNotTakenAsLevel) {
  Scenario scenario = heavy(0);
  scenario.request.route.gradients.clear();
  expect_not_known(scenario, "no gradient is stated from km ");
}

TEST(CoastingInAPlan, AProfileOfOnlyPartOfTheWayLeavesTheRestUnknown) {
  const auto with_gap = [](double from_km, double to_km) {
    Scenario scenario = heavy(0);
    scenario.request.route.gradients = {
        {.from_km = 0, .to_km = from_km, .permille = 0, .place = {}},
        {.from_km = to_km, .to_km = 20, .permille = 0, .place = {}}};
    return scenario;
  };
  expect_not_known(with_gap(10.05, 10.1), "no gradient is stated from km 10.050 to 10.100, where");
  // When the breaker opens before km 10, the rear of the train of 319 m is still before km 9.7.
  expect_not_known(with_gap(9.69, 9.7), "no gradient is stated from km 9.690 to 9.700, where");
  EXPECT_EQ(with_gap(8, 9).plan().answer, Answer::permitted) << "far before it does not matter";
  EXPECT_EQ(with_gap(12, 13).plan().answer, Answer::permitted) << "nor does it far behind";
}

TEST(CoastingInAPlan, WhatIsNotKnownHasTheStrengthThatTheRuleHas) {
  Scenario scenario = heavy(0);
  scenario.request.route.gradients.clear();
  scenario.rule("coasting").strength = Strength::last_resort;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(finding(plan.sections, "coasting")->strength, Strength::last_resort);
}

TEST(CoastingInAPlan, AConsentCoversWhatIsNotKnownToo) {
  Scenario scenario = heavy(0);
  scenario.request.route.gradients.clear();
  scenario.request.train.consents = {consent_for_rule("coasting")};
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
}

TEST(CoastingInAPlan, ARuleBookMayStateAGradientToReckonWithWhereNoneIsStated) {
  const auto with_book = [](double permille, double line_kmh) {
    Scenario scenario = heavy(0);
    scenario.request.route.gradients.front().to_km = 10.05;
    scenario.section().line_speed_kmh = line_kmh;
    scenario.rule("coasting").numbers["gradient_not_stated_permille"] = permille;
    return scenario.plan();
  };
  const Plan fast = with_book(25, 100);
  EXPECT_EQ(fast.answer, Answer::permitted);
  EXPECT_NE(finding(fast.sections, "coasting")
                ->text.find("Where no gradient is stated, 25 per mille uphill is reckoned with."),
            std::string::npos);
  EXPECT_EQ(with_book(120, 25).answer, Answer::consent_needed) << "up such a hill it stands";
  EXPECT_EQ(finding(heavy(0).plan().sections, "coasting")->text.find("reckoned"),
            std::string::npos);
}

TEST(CoastingInAPlan, AStopBehindItIsNoStopWithinIt) {
  Scenario scenario = heavy(0);
  scenario.request.route.stops = {{.name = "Varn", .at_km = 15, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::note);
  EXPECT_NE(said->text.find("gets through"), std::string::npos) << said->text;
}

TEST(CoastingInAPlan, WhereTheTrainTurnsRoundUnderItsLengthItIsNotKnown) {
  Scenario scenario = heavy(0);
  scenario.request.route.stops = {{.name = "Turn", .at_km = 9.98, .reversal = true, .place = {}}};
  expect_not_known(scenario, "the train turns round there");
}

// 10 kN slow 1000 t down by 0.01 m/s²; with two thirds of the speed of 120 km/h lost over a
// kilometre the train would have to be braked.
TEST(CoastingInAPlan, WhatIsLostOnTheLevelIsWhatTheResistanceTakes) {
  const Finding said = *finding(heavy(0).plan().sections, "coasting");
  const std::size_t over = said.text.find("without power over ") + 19;
  const double metres = std::stod(said.text.substr(over));
  const double in_ms = 120 / 3.6;
  const double out_kmh = 3.6 * std::sqrt(in_ms * in_ms - 2 * 0.01 * metres);
  EXPECT_NE(said.text.find(fmt::format("from 120 km/h at km ")), std::string::npos) << said.text;
  EXPECT_NE(said.text.find(fmt::format(" to {:.0f} km/h at km ", out_kmh)), std::string::npos)
      << said.text << out_kmh;
  EXPECT_NE(said.text.find(fmt::format(", {:.0f} km/h lost.", 120 - out_kmh)), std::string::npos)
      << said.text << out_kmh;
}

/// An electric unit whose pantographs stand 15 and, usually, 60 m behind its front, on 30 per
/// mille. The separation section is 30 m long, so that one may stand before it and the other
/// behind.
Scenario short_section(double line_kmh, double second_m = 60) {
  SeparationSection section = at_km_10();
  section.length_m = 30;
  Scenario scenario;
  auto type = std::make_shared<VehicleType>(*electric_unit());
  type->running = {.mass_t = 1000, .resistance = RunningResistance{10000, 0, 0}};
  type->pantographs.back().from_cab1_m = second_m;
  scenario.add(type);
  scenario.section().line_speed_kmh = line_kmh;
  scenario.request.route.separations = {section};
  scenario.request.route.gradients = {{.from_km = 0, .to_km = 20, .permille = 30, .place = {}}};
  return scenario;
}

// Down a gradient that takes away what the resistance costs: 20 km/h all along. Of the strips it is
// taken that they reach over 0.8 m: 13.6 m and these at 5.56 m/s.
TEST(CoastingInAPlan, APantographPassesASectionFromTheFirstTouchOfItsStripsToTheLast) {
  SeparationSection section = at_km_10();
  section.length_m = 13.6;
  Scenario scenario = heavy(-1.0194, section);
  scenario.section().line_speed_kmh = 20;
  const Finding said = *finding(scenario.plan().sections, "coasting");
  EXPECT_NE(said.text.find("1.2 passes it in 3 s, entering at 20 km/h and leaving at 20 km/h"),
            std::string::npos)
      << said.text;
}

TEST(CoastingInAPlan, ASpeedThatIsOrderedOnTheWayThroughCounts) {
  Scenario scenario = heavy(8);
  scenario.cut_at(10.05).line_speed_kmh = 15;
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
  EXPECT_NE(said->text.find("From 15 km/h at km "), std::string::npos) << said->text;
}

TEST(CoastingInAPlan, WorksPassedWithPantographsDownArePassedWithoutPower) {
  Scenario scenario = heavy(30);
  scenario.request.route.separations.clear();
  scenario.request.route.lowered = {{.name = "Works", .from_km = 10, .to_km = 10.2, .place = {}}};
  scenario.section().line_speed_kmh = 30;
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
  EXPECT_TRUE(said->text.starts_with("Works: ")) << said->text;
}

TEST(CoastingInAPlan, WhatLiesBehindThePlaceOfDepartureIsNotPassed) {
  Scenario scenario = heavy(30);
  scenario.section().line_speed_kmh = 30;
  scenario.request.route.departs_km = 15;
  EXPECT_EQ(finding(scenario.plan().sections, "coasting"), nullptr);
}

// 1.2, which is up, comes to the section when the front is 30 m past it.
TEST(CoastingInAPlan, APantographFarBehindTheFrontIsJudgedToo) {
  const Plan plan = short_section(18).plan();
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
  EXPECT_NE(said->text.find("it comes to a stand with its front at km 10.0"), std::string::npos)
      << said->text;
}

TEST(CoastingInAPlan, WhatWasPassedBeforeTheBreakerClosedIsNotPassedAgain) {
  Scenario scenario = short_section(30);
  scenario.request.route.gradients.front().permille = 0;
  SeparationSection second = scenario.request.route.separations.front();
  second.name = "Second separation";
  second.from_km = 10.13;
  scenario.request.route.separations.push_back(second);
  const Plan plan = scenario.plan();
  std::vector<std::string> said;
  for (const Finding& one : plan.sections.front().findings) {
    if (one.rule == "coasting") {
      said.push_back(one.text.substr(0, one.text.find(':')));
    }
  }
  EXPECT_EQ(said, (std::vector<std::string>{"Mosk phase separation", "Second separation"}));
}

TEST(CoastingInAPlan, APushingLocomotiveIsJudgedWhereItsOwnPantographPasses) {
  Scenario scenario = heavy(30);
  scenario.section().line_speed_kmh = 30;
  scenario.request.route.stops = {{.name = "Turn", .at_km = 5, .reversal = true, .place = {}}};
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::consent_needed);
  // 1.1 stands 314.5 m behind the front then.
  EXPECT_NE(said->text.find("From 30 km/h at km 10.2"), std::string::npos) << said->text;
}

TEST(CoastingInAPlan, WhatStandsUnderLiveWireIsSaidForEitherSide) {
  const auto way_out = [](const Scenario& scenario) {
    const Plan plan = scenario.plan();
    const Finding* const said = finding(plan.sections, "coasting");
    return said == nullptr ? std::string() : said->text;
  };
  const std::string before = way_out(short_section(6, 40));
  EXPECT_NE(before.find(", 1.2 stands under the live wire before it. Elsewhere "),
            std::string::npos)
      << before;
  const std::string both = way_out(short_section(12));
  EXPECT_NE(both.find(", 1.2 stands under the live wire before it, 1.1 stands under the live wire "
                      "behind it. Elsewhere 1.2 reaches the live wire before it while the front is "
                      "short of km 10.060, 1.1 that behind it from km 10.045 on."),
            std::string::npos)
      << both;
}

TEST(CoastingInAPlan, BehindItCountsWhatTheWireThereAdmits) {
  Scenario scenario = short_section(18);
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*scenario.vehicle(1).type);
  type->pantographs.front().type = narrow;
  scenario.vehicle(1).type = type;
  scenario.cut_at(10.03).permitted_head_widths_mm = {1600, 1950};
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "coasting");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.2 reaches the live wire before it while the front is short of km "
                            "10.060, 1.1 that behind it from km 10.045 on"),
            std::string::npos)
      << said->text;
}

/// The rear pantograph, 14.5 m behind the front, is up.
Scenario stopping_at(double km) {
  Scenario scenario = heavy(0);
  scenario.request.route.stops = {{.name = "Mosk", .at_km = km, .reversal = false, .place = {}}};
  return scenario;
}

TEST(StandingInAPlan,
     AStopWithEveryPantographInTheSectionIsNotPermittedSinceTheTrainCouldNotStart) {
  const Plan plan = stopping_at(10.03).plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const Finding* const said = finding(plan.sections, "driver-times");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("the train stands at Mosk, km 10.030, and is then in or before Mosk "
                            "phase separation"),
            std::string::npos)
      << said->text;
  // The front pantograph stands 4.5 m behind the front.
  EXPECT_NE(said->text.find("its front before km 10.004"), std::string::npos) << said->text;
}

TEST(StandingInAPlan, WhereTheTrainTurnsRoundOverTheSectionItIsClearOnlyBeforeIt) {
  for (const double km : {10.2, 10.3, 10.4}) {  // 319 m long: its rear is not through yet
    Scenario scenario = stopping_at(km);
    scenario.request.route.stops.front().reversal = true;
    const Plan plan = scenario.plan();
    EXPECT_EQ(plan.answer, Answer::none);
    const Finding* const said = finding(plan.sections, "driver-times");
    ASSERT_NE(said, nullptr);
    EXPECT_TRUE(said->text.ends_with("It is clear with its front before km 10.000.")) << said->text;
  }
}

TEST(StandingInAPlan, AStopWithThePantographClearOfTheSectionIsLeftAlone) {
  EXPECT_EQ(finding(stopping_at(10.014).plan().sections, "standing-at-a-stop"), nullptr);
  EXPECT_EQ(finding(stopping_at(10.171).plan().sections, "standing-at-a-stop"), nullptr);
}

TEST(StandingInAPlan, ASignalIsALastResortAndOtherMarksAreNone) {
  Scenario scenario = heavy(0);
  scenario.request.route.landmarks = {{.name = "Mosk home signal",
                                       .at_km = 10.05,
                                       .change_on_the_move = false,
                                       .signal = false,
                                       .place = {}}};
  EXPECT_EQ(finding(scenario.plan().sections, "standing-at-a-signal"), nullptr);
  scenario.request.route.landmarks.front().signal = true;
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "standing-at-a-signal");
  ASSERT_NE(said, nullptr);
  EXPECT_EQ(said->strength, Strength::last_resort);
  EXPECT_EQ(plan.answer, Answer::permitted);
  // 1.2 is up, 14.5 m behind the front: with its strips it is clear up to km 10.014.
  const auto order = std::ranges::find(plan.instructions, Action::stop_short, &Instruction::action);
  ASSERT_NE(order, plan.instructions.end());
  EXPECT_EQ(order->what, "If Mosk home signal is at stop, stop at least 36 m before it");
  EXPECT_NEAR(order->at_km, 10.014, 1e-9);
}

TEST(StandingInAPlan, NoStopIsOrderedBeforeThePlaceWhereTheTrainStoodLast) {
  // At the signal the pantograph, 14.5 m behind the front, would stand at an insulator; 2 m before
  // it is clear.
  const auto ordered_with_stop_at = [](double stop_km) {
    Scenario scenario = heavy(0);
    scenario.request.route.separations.clear();
    scenario.request.route.landmarks = {
        {.name = "Signal", .at_km = 5, .signal = true, .place = {}}};
    scenario.request.route.section_insulators = {
        {.name = "insulator 7", .at_km = 4.985, .length_m = 2, .place = {}}};
    scenario.request.route.stops = {
        {.name = "Mosk", .at_km = stop_km, .reversal = false, .place = {}}};
    const Plan plan = scenario.plan();
    return std::ranges::count(plan.instructions, Action::stop_short, &Instruction::action);
  };
  EXPECT_EQ(ordered_with_stop_at(3), 1);
  EXPECT_EQ(ordered_with_stop_at(4.998), 0) << "it stands at the place already";
}

TEST(StandingInAPlan, WhereItIsNotClearFartherBackTheOrderSaysBetweenWhichPlaces) {
  // The pantograph, 14.5 m behind the front, would stand at an insulator, and 85 m before that
  // at another.
  Scenario scenario = heavy(0);
  scenario.request.route.separations.clear();
  scenario.request.route.landmarks = {{.name = "Signal", .at_km = 5, .signal = true, .place = {}}};
  scenario.request.route.section_insulators = {
      {.name = "insulator 7", .at_km = 4.985, .length_m = 2, .place = {}},
      {.name = "insulator 8", .at_km = 4.9, .length_m = 2, .place = {}}};
  const Plan plan = scenario.plan();
  const auto order = std::ranges::find(plan.instructions, Action::stop_short, &Instruction::action);
  ASSERT_NE(order, plan.instructions.end());
  EXPECT_EQ(order->what, "If Signal is at stop, stop 2 to 22 m before it");
}

TEST(StandingInAPlan, TheRoofLineThatJoinsIsNamed) {
  // Both single-strip pantographs are up, the rear one 14.5 m behind the front.
  auto type = std::make_shared<VehicleType>(*locomotive({.strips = 1}));
  type->roof_line = true;
  Scenario scenario = Scenario().add(type).permits(2);
  scenario.request.route.stops = {{.name = "Mosk", .at_km = 5, .reversal = false, .place = {}}};
  scenario.request.route.section_insulators = {
      {.name = "section insulator 7", .at_km = 4.985, .length_m = 2, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  const Finding* const said = finding(plan.sections, "standing-at-a-stop");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.2 may stand in section insulator 7, joined with others by the roof "
                            "line of locomotive 1"),
            std::string::npos)
      << said->text;
}

TEST(StandingInAPlan, ASectionInsulatorCounts) {
  Scenario scenario = stopping_at(5);
  scenario.request.route.separations.clear();
  scenario.request.route.section_insulators = {
      {.name = "section insulator 7", .at_km = 4.985, .length_m = 2, .place = {}}};
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "standing-at-a-stop");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.2 may stand in section insulator 7"), std::string::npos)
      << said->text;
}

TEST(StandingInAPlan, TheWordsSayWhereItIsClearAndTheOrderWhy) {
  Scenario scenario = stopping_at(5);
  scenario.request.route.separations.clear();
  scenario.request.route.section_insulators = {
      {.name = "insulator 7", .at_km = 4.985, .length_m = 2, .place = {}}};
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan.sections, "standing-at-a-stop");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("If the train stands at Mosk, km 5.000, or up to "), std::string::npos);
  EXPECT_NE(said->text.find(" m before, 1.2 may stand in insulator 7. It is clear if the train "
                            "stops 2 m before Mosk, at km 4.998."),
            std::string::npos)
      << said->text;
  const auto order = std::ranges::find(plan.instructions, Action::stop_short, &Instruction::action);
  ASSERT_NE(order, plan.instructions.end());
  EXPECT_EQ(order->reason, "1.2 would stand in insulator 7");
}

TEST(StandingInAPlan, SeveralAreNamedOneAfterTheOther) {
  Scenario scenario = Scenario().add(locomotive({.strips = 1})).permits(2);
  scenario.request.route.stops = {{.name = "Mosk", .at_km = 5, .reversal = false, .place = {}}};
  scenario.request.route.section_insulators = {
      {.name = "insulator 6", .at_km = 4.995, .length_m = 2, .place = {}},
      {.name = "insulator 7", .at_km = 4.985, .length_m = 2, .place = {}}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(up_on(plan), "F1 R1");
  const Finding* const said = finding(plan.sections, "standing-at-a-stop");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.1 may stand in insulator 6; 1.2 may stand in insulator 7."),
            std::string::npos)
      << said->text;
}

TEST(StandingInAPlan, TheEndOfTheRouteHasTheNameOfTheStopThere) {
  const auto said_with_stop_at = [](double km) {
    Scenario scenario = heavy(0);
    scenario.request.route.separations.clear();
    scenario.request.route.stops = {{.name = "Varn", .at_km = km, .reversal = false, .place = {}}};
    scenario.request.route.section_insulators = {
        {.name = "insulator 7", .at_km = 19.985, .length_m = 2, .place = {}}};
    const Plan plan = scenario.plan();
    const Finding* const said = finding(plan.sections, "standing-at-a-stop");
    return said == nullptr ? std::string() : said->text;
  };
  EXPECT_NE(said_with_stop_at(20).find("If the train stands at Varn, km 20.000"), std::string::npos)
      << said_with_stop_at(20);
  EXPECT_NE(said_with_stop_at(5).find("If the train stands at the end of the route, km 20.000"),
            std::string::npos)
      << said_with_stop_at(5);
}

TEST(StandingInAPlan, TheStopWhereTheTrainTurnsRoundIsLookedAt) {
  // It comes with 1.2 up, 14.5 m behind its front, and could leave with neither.
  Scenario scenario = stopping_at(10.05);
  scenario.request.route.stops.front().reversal = true;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const Finding* const said = finding(plan.sections, "standing-at-a-stop");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.2 may stand in Mosk phase separation"), std::string::npos)
      << said->text;
}

TEST(StandingInAPlan, AfterAReversalThePantographsStandWhereTheTrainThatTurnedHasThem) {
  // Behind 300 m of load the locomotive is last: its cab 2 ahead, the rear pantograph, 1.1, stands
  // 314.5 m behind the front.
  Scenario scenario = heavy(0);
  scenario.request.route.separations.clear();
  scenario.request.route.stops = {{.name = "Turn", .at_km = 5, .reversal = true, .place = {}},
                                  {.name = "Varn", .at_km = 15, .reversal = false, .place = {}}};
  const auto said_with_insulator_at = [&scenario](double km) {
    scenario.request.route.section_insulators = {
        {.name = "section insulator 7", .at_km = km, .length_m = 4, .place = {}}};
    const Plan plan = scenario.plan();
    const Finding* const said = finding(plan.sections, "standing-at-a-stop");
    return said == nullptr ? std::string() : said->text;
  };
  EXPECT_NE(said_with_insulator_at(15 - 0.3145).find("Varn"), std::string::npos);
  EXPECT_EQ(said_with_insulator_at(15 - 0.0145), "") << "where it stood before it turned round";
}

TEST(StandingInAPlan, WhatLiesBeforeAReversalIsNotMetAfterIt) {
  Scenario scenario = heavy(0);
  scenario.request.route.stops = {{.name = "Mosk", .at_km = 10.17, .reversal = true, .place = {}},
                                  {.name = "Varn", .at_km = 10.18, .reversal = false, .place = {}}};
  EXPECT_EQ(finding(scenario.plan().sections, "standing-at-a-stop"), nullptr);
}

}  // namespace

}  // namespace panup::scenario
