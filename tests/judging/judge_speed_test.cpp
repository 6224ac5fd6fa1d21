#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "sample_case.h"

/// Speeds that do not come from spacing. Source: infrastructure and vehicle register; ice and
/// single strips: common practice, no published source, P7 and P9; their speeds are the operator's.

namespace panup {

namespace {

struct SpeedTest : testing::Test {
  SampleCase sample;
  std::shared_ptr<PantographType> front = SampleCase::pantograph();
  std::shared_ptr<PantographType> rear = SampleCase::pantograph();
  std::shared_ptr<VehicleType> type = SampleCase::locomotive(front, rear);

  SpeedTest() { sample.add(type); }

  void expect(const std::string& raised, double kmh, const std::string& rule,
              const std::string& text) const {
    const Said said = sample.with(raised);
    EXPECT_EQ(said.verdict.speed_kmh, kmh);
    EXPECT_EQ(said.verdict.other_speed_kmh, kmh);
    ASSERT_NE(said.verdict.speed_rule, nullptr);
    EXPECT_EQ(said.verdict.speed_rule->id, rule);
    EXPECT_EQ(said.of(rule), "speed limit: " + text + ".");
    EXPECT_EQ(said.first(rule).reason, text);
  }
};

TEST_F(SpeedTest, TheLineSpeedDecidesWhereNothingIsSlower) {
  expect("1.2", 120, "line-speed", "Line speed 120 km/h");
}

TEST_F(SpeedTest, TheSlowestOfVehiclesLoadsAndTrainDecides) {
  type->highest_speed_kmh = 110;
  expect("1.2", 110, "vehicle-speed", "Highest speed of Test type: 110 km/h");
  EXPECT_EQ(sample.with("1.2").of("line-speed"), "") << "what does not decide is not said";
  sample.load(LoadNature::ordinary, "gravel").load(LoadNature::ordinary, "timber");
  EXPECT_EQ(sample.with("1.2").verdict.speed_kmh, 110);
  std::get<LoadGroup>(sample.train.consist[1]).highest_speed_kmh = 100;
  std::get<LoadGroup>(sample.train.consist[2]).highest_speed_kmh = 100;
  expect("1.2", 100, "vehicle-speed", "Highest speed of gravel: 100 km/h");
  sample.train.highest_speed_kmh = 90;
  expect("1.2", 90, "vehicle-speed", "Highest speed of the train: 90 km/h");
  sample.train.highest_speed_kmh = 130;
  expect("1.2", 100, "vehicle-speed", "Highest speed of gravel: 100 km/h");
}

/// F = a v² + b; form of EN 50367, from memory. The pantographs press with 70 N at a stand.
TEST_F(SpeedTest, APantographPressesNoHarderAtSpeedThanTheSectionPermits) {
  sample.section.greatest_contact_force = {0.00097, 70};
  rear->aerodynamic_n_per_kmh2 = 0.00097;
  EXPECT_EQ(sample.with("1.2").of("contact-force-fit"), "") << "as much as is permitted";
  rear->aerodynamic_n_per_kmh2 = 0.00197;
  sample.section.greatest_contact_force = {0.00097, 77};
  expect("1.2", 83, "contact-force-fit",
         "Mean contact force of 1.2: 98.4 N at 120 km/h, where 91.0 N are permitted: 83 km/h");
  rear->highest_speed_kmh = 80;
  EXPECT_EQ(sample.with("1.2").of("contact-force-fit"), "") << "it never runs faster than 80 km/h";
}

TEST_F(SpeedTest, WhatPressesTooHardAtEverySpeedIsNotRaised) {
  sample.section.greatest_contact_force = {0.00097, 60};
  rear->aerodynamic_n_per_kmh2 = 0.00097;
  EXPECT_EQ(
      sample.with("1.2").of("contact-force-fit"),
      "forbidden: 1.2: its mean contact force is 84.0 N at 120 km/h; permitted: 74.0 N. It is "
      "not permitted at a lower speed either.");
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
  rear->aerodynamic_n_per_kmh2.reset();
  sample.section.greatest_contact_force = {0, 69};
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden) << "its static force alone is more";
  rear->aerodynamic_n_per_kmh2 = 0.001;
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
}

TEST_F(SpeedTest, WhatPressesTooHardAtAStandIsNotRaisedHoweverMuchIsPermittedAtSpeed) {
  sample.section.greatest_contact_force = {0.00097, 60};
  rear->aerodynamic_n_per_kmh2 = 0;
  EXPECT_EQ(sample.with("1.2").of("contact-force-fit"),
            "forbidden: 1.2: its mean contact force is 70.0 N at a stand; permitted: 60.0 N. That "
            "it is permitted at 120 km/h does not help: a train runs through every lower speed.");
  rear->aerodynamic_n_per_kmh2.reset();
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden) << "its static force is known";
  sample.section.greatest_contact_force = {0, 69};
  rear->aerodynamic_n_per_kmh2 = -0.001;
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden) << "it is pressed down at speed";
}

TEST_F(SpeedTest, ASpeedBelowWhatALineMayStateIsNoSpeed) {
  rear->aerodynamic_n_per_kmh2 = 0.01;
  sample.section.greatest_contact_force = {0, 70.26};  // sqrt(0.26 / 0.01) is 5.1
  EXPECT_EQ(sample.with("1.2").verdict.speed_kmh, 5);
  sample.section.greatest_contact_force = {0, 70.2};  // 4.5
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
}

TEST_F(SpeedTest, TheContactForceIsThatOfTheSectionOverThePantograph) {
  Section behind = sample.section;
  behind.id = "behind";
  behind.greatest_contact_force = {0.00097, 60};
  rear->aerodynamic_n_per_kmh2 = 0.00097;
  const Judge judge = sample.judge();
  Said said;
  const Ground ground = judge.ground(sample.section, false, {}, {{&behind, PantographSet{1}}});
  said.verdict = judge.judge(ground, PantographSet{1}, {}, &said.findings);
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.first("contact-force-fit").values.front().id, "behind");
}

/// Held against every speed by itself: a dense scan, which knows nothing of where the worst is.
TEST_F(SpeedTest, TheContactForceIsPermittedAtEverySpeedFromAStandToTheSpeedThatIsGiven) {
  std::mt19937 draw(5);
  const auto drawn = [&draw](double least, double greatest) {
    return std::uniform_real_distribution<double>(least, greatest)(draw);
  };
  int forbidden = 0;
  int limited = 0;
  int free = 0;
  for (int i = 0; i < 600; ++i) {
    const double static_n = drawn(60, 80);
    const double growth = drawn(-0.002, 0.004);
    const ContactForceLimit permitted{i % 4 == 0 ? 0 : drawn(0, 0.003), drawn(55, 110)};
    const double greatest_kmh = std::round(drawn(30, 160));
    rear->supplies.front().static_force_n = static_n;
    rear->aerodynamic_n_per_kmh2 = growth;
    sample.section.greatest_contact_force = permitted;
    sample.section.line_speed_kmh = greatest_kmh;
    int holds_to_kmh = -1;  // the last whole speed up to which it holds at all speeds
    for (int tenth = 0; tenth <= 10 * greatest_kmh; ++tenth) {
      const double kmh = tenth / 10.0;
      const double presses_n = static_n + growth * kmh * kmh;
      const double permits_n = permitted.constant_n + permitted.square_n_per_kmh2 * kmh * kmh;
      if (presses_n > permits_n) {
        break;
      }
      holds_to_kmh = tenth % 10 == 0 ? tenth / 10 : holds_to_kmh;
    }
    const Verdict verdict = sample.with("1.2").verdict;
    EXPECT_EQ(verdict.forbidden, holds_to_kmh < 5) << i;
    forbidden += verdict.forbidden ? 1 : 0;
    if (!verdict.forbidden) {
      EXPECT_EQ(verdict.speed_kmh, std::min<double>(holds_to_kmh, greatest_kmh)) << i;
      (holds_to_kmh < greatest_kmh ? limited : free) += 1;
    }
  }
  EXPECT_GT(std::min({forbidden, limited, free}), 50);
}

TEST_F(SpeedTest, WhatIsNotKnownOfTheContactForceIsSaid) {
  sample.section.greatest_contact_force = {0.00097, 70};
  EXPECT_EQ(sample.with("1.2").of("contact-force-fit"),
            "note: How hard 1.2 presses at speed is not stated; the section permits a mean of 84 N "
            "at 120 km/h. Look it up before the train runs.");
  EXPECT_EQ(sample.with("1.2").first("contact-force-fit").values.size(), 2U);
  rear->aerodynamic_n_per_kmh2 = 0.00047;
  sample.section.greatest_contact_force = {0, 300};
  EXPECT_EQ(
      sample.with("1.2").of("contact-force-fit"),
      "note: The section permits no contact force above 300 N. 1.2 presses 77 N on average at "
      "120 km/h; its peaks are not known here: the mechanics gives them.");
  EXPECT_EQ(sample.with("1.2").verdict.speed_kmh, 120);
  rear->highest_speed_kmh = 80;
  EXPECT_NE(sample.with("1.2").of("contact-force-fit").find("73 N on average at 80 km/h"),
            std::string::npos)
      << "it never runs faster";
}

TEST_F(SpeedTest, ALoadThatStatesNoSpeedIsPointedAtAndNothingIsMadeUpForIt) {
  sample.load(LoadNature::ordinary, "gravel");
  const std::string text =
      "last resort: Highest speed of load \"gravel\" is not stated, and the rule book names none "
      "for such a load: the speeds of this plan do not allow for it. The train must not run before "
      "somebody who answers for the load has stated it.";
  EXPECT_EQ(sample.with("1.2").of("vehicle-speed"), text);
  EXPECT_EQ(sample.with("1.2").verdict.speed_kmh, 120);
  const Judge judge = sample.judge();
  Said lowered;
  judge.judge_lowered(judge.ground(sample.section, false), &lowered.findings);
  EXPECT_EQ(lowered.of("vehicle-speed"), text) << "with all down too";
  std::get<LoadGroup>(sample.train.consist[1]).highest_speed_kmh = 150;
  EXPECT_EQ(sample.with("1.2").of("vehicle-speed"), "");
}

TEST_F(SpeedTest, ARuleBookMayStateASpeedForLoadsThatStateNone) {
  sample.rule("vehicle-speed").numbers["load_not_stated_kmh"] = 60;
  EXPECT_EQ(sample.with("1.2").verdict.speed_kmh, 120) << "there is no load";
  sample.load(LoadNature::ordinary, "gravel").load(LoadNature::ordinary, "timber");
  expect("1.2", 60, "vehicle-speed",
         "Highest speed of load \"gravel\" and \"timber\" is not stated: 60 km/h by the rule book");
  std::get<LoadGroup>(sample.train.consist[1]).highest_speed_kmh = 100;
  expect("1.2", 60, "vehicle-speed",
         "Highest speed of load \"timber\" is not stated: 60 km/h by the rule book");
  std::get<LoadGroup>(sample.train.consist[1]).highest_speed_kmh = 50;
  EXPECT_EQ(sample.with("1.2").of("vehicle-speed"),
            "speed limit: Highest speed of gravel: 50 km/h.\nspeed limit: Highest speed of load "
            "\"timber\" is not stated: 60 km/h by the rule book.")
      << "it is said also where another decides";
}

TEST_F(SpeedTest, ASpeedOfTheWholeTrainIsOneOfItsLoads) {
  sample.load(LoadNature::ordinary, "gravel");
  sample.train.highest_speed_kmh = 100;
  expect("1.2", 100, "vehicle-speed", "Highest speed of the train: 100 km/h");
  sample.rule("vehicle-speed").numbers["load_not_stated_kmh"] = 60;
  expect("1.2", 100, "vehicle-speed", "Highest speed of the train: 100 km/h");
}

TEST_F(SpeedTest, TheSlowestRaisedPantographDecides) {
  front->highest_speed_kmh = 90;
  rear->highest_speed_kmh = 80;
  rear->name = "Other pantograph";
  sample.section.records = {{2, 5, 120}};
  expect("1.1", 90, "pantograph-speed",
         "Highest speed of pantograph 1.1 (Test pantograph): 90 km/h");
  expect("1.1 1.2", 80, "pantograph-speed",
         "Highest speed of pantograph 1.2 (Other pantograph): 80 km/h");
}

TEST_F(SpeedTest, OnAnIcedWireTheIceSpeedIsSaidEvenWhereAnotherDecides) {
  sample.rule("ice-speed").numbers["speed_kmh"] = 60;
  sample.section.records = {{2, 5, 120}};
  EXPECT_EQ(sample.with("1.1 1.2").of("ice-speed"), "");
  sample.iced = true;
  expect("1.1 1.2", 60, "ice-speed", "Iced contact wire: 60 km/h");
  front->highest_speed_kmh = 50;
  const Said said = sample.with("1.1 1.2");
  EXPECT_EQ(said.verdict.speed_kmh, 50);
  EXPECT_EQ(said.of("ice-speed"), "speed limit: Iced contact wire: 60 km/h.");
  EXPECT_EQ(said.of("pantograph-speed"),
            "speed limit: Highest speed of pantograph 1.1 (Test pantograph): 50 km/h.");
  sample.rule("ice-speed").numbers.clear();
  EXPECT_EQ(sample.with("1.1 1.2").of("ice-speed"), "");
}

TEST_F(SpeedTest, OneContactStripOnTheLeadingLocomotiveMeansLowSpeed) {
  sample.rule("single-strip-speed").numbers["speed_kmh"] = 40;
  front->strip_count = 1;
  rear->strip_count = 1;
  sample.section.records = {{3, 5, 120}};
  expect("1.2", 40, "single-strip-speed",
         "locomotive 1 has a single contact strip on the wire: 40 km/h");
  EXPECT_EQ(sample.with("1.1 1.2").verdict.speed_kmh, 120) << "two are enough";
  sample.add(type);
  EXPECT_EQ(sample.with("1.1 1.2 2.2").verdict.speed_kmh, 120) << "the following one is not asked";
  EXPECT_EQ(sample.with("1.2 2.2").verdict.speed_kmh, 40) << "strips of the other do not count";
  rear->strip_count = 2;
  EXPECT_EQ(sample.with("1.2 2.2").verdict.speed_kmh, 120);
  sample.vehicle(2).dead_in_tow = true;
  EXPECT_EQ(sample.with("1.1").verdict.speed_kmh, 40);
}

TEST_F(SpeedTest, OfALimitThatIsSaidAnywayTheReasonStays) {
  sample.iced = true;
  sample.rule("ice-speed").numbers["speed_kmh"] = 150;
  const Said said = sample.with("1.2");
  EXPECT_EQ(said.verdict.speed_kmh, 120);
  EXPECT_EQ(said.verdict.speed_rule->id, "line-speed");
  EXPECT_EQ(said.of("line-speed"), "speed limit: Line speed 120 km/h.");
  EXPECT_EQ(said.first("ice-speed").reason, "Iced contact wire: 150 km/h");
}

TEST_F(SpeedTest, WithAllDownTheSpeedsForLoweringAndRaisingCount) {
  Rule& rule = sample.rule("change-while-lowered");
  const auto lowered = [&] {
    const Judge judge = sample.judge();
    Said said;
    said.verdict = judge.judge_lowered(judge.ground(sample.section, sample.iced), &said.findings);
    EXPECT_EQ(judge.judge_lowered(judge.ground(sample.section, sample.iced)).speed_kmh,
              said.verdict.speed_kmh);
    return said;
  };
  EXPECT_EQ(lowered().verdict.speed_kmh, 120);
  rule.numbers["lowering_speed_kmh"] = 80;
  EXPECT_EQ(lowered().of("change-while-lowered"),
            "speed limit: Pantographs are lowered at no more than 80 km/h.");
  rule.numbers["raising_speed_kmh"] = 60;
  EXPECT_EQ(lowered().of("change-while-lowered"),
            "speed limit: Pantographs are raised at no more than 60 km/h.");
  EXPECT_EQ(lowered().verdict.speed_kmh, 60);
  sample.train.highest_speed_kmh = 50;
  EXPECT_EQ(lowered().verdict.speed_kmh, 50);
  sample.rule("ice-speed").numbers["speed_kmh"] = 45;
  sample.iced = true;
  EXPECT_EQ(lowered().verdict.speed_kmh, 45);
  EXPECT_EQ(lowered().of("pantograph-speed"), "");
  EXPECT_FALSE(lowered().verdict.forbidden) << "that all are down is no breach there";
}

TEST_F(SpeedTest, ABankingGroupHasALeadingLocomotiveOfItsOwn) {
  sample.rule("single-strip-speed").numbers["speed_kmh"] = 40;
  sample.load(LoadNature::ordinary);
  auto single = SampleCase::pantograph();
  single->strip_count = 1;
  sample.add(type).add(SampleCase::locomotive(single, single));
  sample.section.design_type.reset();
  sample.section.records = {{3, 5, 120}};
  EXPECT_EQ(sample.with("1.1 2.1 3.2").verdict.speed_kmh, 120) << "the third follows the second";
  EXPECT_EQ(sample.with("1.1 3.2").verdict.speed_kmh, 40);
  sample.train.highest_speed_kmh = 30;
  EXPECT_EQ(sample.with("1.1 3.2").of("single-strip-speed"),
            "speed limit: locomotive 3 has a single contact strip on the wire: 40 km/h.")
      << "it is said even where another speed decides";
}

/// A train that has turned round at the end of a line with no way past. Common practice, no
/// published source.
TEST_F(SpeedTest, WhereWagonsLeadTheTrainRunsAtTheSpeedForPropelling) {
  sample.load(LoadNature::ordinary, "gravel");
  sample.rule("propelling").numbers["speed_kmh"] = 25;
  EXPECT_EQ(sample.with("1.2").of("propelling"), "") << "the locomotive leads";
  sample.reversed = true;
  expect("1.2", 25, "propelling", "Wagons lead, no cab ahead: 25 km/h");
  sample.section.line_speed_kmh = 20;
  const Said said = sample.with("1.2");
  EXPECT_EQ(said.verdict.speed_kmh, 20);
  EXPECT_NE(said.of("propelling"), "") << "it is said also where another speed is lower";
}

TEST_F(SpeedTest, WhereWagonsLeadAndNoSpeedIsNamedConsentIsNeeded) {
  sample.load(LoadNature::ordinary, "gravel");
  EXPECT_FALSE(sample.with("1.2").verdict.consent_needed);
  sample.reversed = true;
  const Said said = sample.with("1.2");
  EXPECT_TRUE(said.verdict.consent_needed);
  EXPECT_EQ(said.first("propelling").strength, Strength::consent_needed);
  Consent consent;
  consent.reference = "N 12";
  consent.given_by = "the infrastructure manager";
  consent.rule = "propelling";
  sample.train.consents = {consent};
  const Said with = sample.with("1.2");
  EXPECT_FALSE(with.verdict.consent_needed);
  EXPECT_NE(with.of("propelling").find("N 12"), std::string::npos);
}

TEST_F(SpeedTest, AControlCarHasACab) {
  sample.load(LoadNature::ordinary, "coaches");
  std::get<LoadGroup>(sample.train.consist.back()).control_car = true;
  sample.reversed = true;
  EXPECT_EQ(sample.with("1.2").of("propelling"), "");
}

}  // namespace

}  // namespace panup
