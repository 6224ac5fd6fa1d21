/// The cases of working practice, P1 to P27. Source of every one of them: common practice, no
/// published source. Numbers the operator has to give (ice speed, speed with a single contact
/// strip) are the tests' own.

#include <gtest/gtest.h>

#include "scenario.h"

namespace panup::scenario {
namespace {

using enum LoadNature;
constexpr PantographFrame diamond = PantographFrame::diamond;

Scenario one(LoadNature nature) { return Scenario().add(locomotive()).load(nature); }
Scenario two(LoadNature nature) {
  return Scenario().add(locomotive()).add(locomotive()).load(nature);
}
Scenario three(LoadNature nature) {
  return Scenario().add(locomotive()).add(locomotive()).add(locomotive()).load(nature);
}

// P1, source: common practice, no published source.
TEST(WorkingPractice, P1_OneMultiStripLocomotiveWithOrdinaryLoad_RearAlone) {
  const Plan plan = one(ordinary).plan();
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_TRUE(says(plan.sections[0], "rear-alone", Strength::prescribed));
}

// P2, source: common practice, no published source.
TEST(WorkingPractice, P2_TheOtherCabLeading_AgainTheRearOneWhichIsTheOtherPantograph) {
  const Plan cab1 = Scenario().add(locomotive(), Cab::cab1).load(ordinary).plan();
  const Plan cab2 = Scenario().add(locomotive(), Cab::cab2).load(ordinary).plan();
  EXPECT_EQ(up_on(cab2), "R1");
  EXPECT_EQ(cab1.sections[0].raised, std::vector<PantographRef>({{1, 2}}));
  EXPECT_EQ(cab2.sections[0].raised, std::vector<PantographRef>({{1, 1}}));
}

// P3, source: common practice, no published source.
TEST(WorkingPractice, P3_DangerousGoodsBehind_FrontAlone) {
  const Plan plan = one(dangerous).plan();
  EXPECT_EQ(up_on(plan), "F1");
  EXPECT_TRUE(says(plan.sections[0], "load-protected", Strength::prescribed));
}

// P4, source: common practice, no published source.
TEST(WorkingPractice, P4_SensitiveLoadBehind_FrontAlone) {
  EXPECT_EQ(up_on(one(sensitive).plan()), "F1");
}

// P5, source: common practice, no published source.
TEST(WorkingPractice, P5_RearOneDefective_Front) {
  const Plan plan = one(ordinary).defect({1, 2}).plan();
  EXPECT_EQ(up_on(plan), "F1");
  EXPECT_EQ(plan.answer, Answer::permitted);
}

// P6, source: common practice, no published source.
TEST(WorkingPractice, P6_LoadToProtectAndFrontOneDefective_RearIsPermittedAndSaidSo) {
  for (const LoadNature nature : {dangerous, sensitive}) {
    const Plan plan = one(nature).defect({1, 1}).plan();
    EXPECT_EQ(up_on(plan), "R1");
    EXPECT_EQ(plan.answer, Answer::permitted);
    EXPECT_TRUE(says(plan.sections[0], "load-protected"));
    EXPECT_TRUE(says_exposed(plan.sections[0]));
  }
}

// P7, source: common practice, no published source.
TEST(WorkingPractice, P7_IcedContactWire_BothAndTheIceSpeed) {
  const Plan plan = one(ordinary).ice().plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  EXPECT_EQ(plan.sections[0].speed_kmh, 60);
  EXPECT_EQ(plan.sections[0].speed_rule, "ice-speed");
}

// P8, source: common practice, no published source.
TEST(WorkingPractice, P8_OneLocomotiveWithTwoSingleStripPantographs_Both) {
  EXPECT_EQ(up_on(Scenario().add(locomotive({.strips = 1})).load(ordinary).plan()), "F1 R1");
}

// P9, source: common practice, no published source.
TEST(WorkingPractice, P9_BranchLocomotiveWithOneSingleStripPantograph_ThatOneAtLowSpeed) {
  const Plan plan = Scenario().add(one_pantograph_locomotive({.strips = 1})).load(ordinary).plan();
  EXPECT_EQ(up_on(plan), "U1");
  EXPECT_EQ(plan.sections[0].speed_kmh, 40);
  EXPECT_EQ(plan.sections[0].speed_rule, "single-strip-speed");
}

// P10, source: common practice, no published source.
TEST(WorkingPractice, P10_OneMultiStripPantograph_ThatOne) {
  const Plan plan = Scenario().add(one_pantograph_locomotive()).load(ordinary).plan();
  EXPECT_EQ(up_on(plan), "U1");
  EXPECT_EQ(plan.sections[0].speed_kmh, 120);
}

// P11, source: common practice, no published source.
TEST(WorkingPractice, P11_DoubleHeading_LeadingFrontSecondRear) {
  EXPECT_EQ(up_on(two(ordinary).plan()), "F1 R2");
}

// P12, source: common practice, no published source.
TEST(WorkingPractice, P12_DoubleHeadingWithLoadToProtect_BothFrontAndTheDistanceMayCostSpeed) {
  for (const LoadNature nature : {dangerous, sensitive}) {
    Scenario scenario = two(nature);
    scenario.section().line_speed_kmh = 160;
    const Plan plan = scenario.plan();
    EXPECT_EQ(up_on(plan), "F1 F2");
    // 19 m apart; design type A, AC: 8 m up to 80 km/h, 20 m up to 120 km/h. Source: Regulation
    // (EU) No 1301/2014, table 4.2.13, from memory.
    EXPECT_EQ(plan.sections[0].speed_kmh, 80);
    EXPECT_EQ(plan.sections[0].speed_rule, "design-spacing");
  }
}

// P13, source: common practice, no published source.
TEST(WorkingPractice, P13_TripleHeading_FirstTwoFrontLastRear) {
  EXPECT_EQ(up_on(three(ordinary).permits(3).plan()), "F1 F2 R3");
}

// P14, source: common practice, no published source, by the same reasoning as P12.
TEST(WorkingPractice, P14_TripleHeadingWithLoadToProtect_AllFront) {
  EXPECT_EQ(up_on(three(dangerous).permits(3).plan()), "F1 F2 F3");
  EXPECT_EQ(up_on(three(sensitive).permits(3).plan()), "F1 F2 F3");
}

// P15, source: common practice, no published source.
TEST(WorkingPractice, P15_DoubleHeadingPrescribedOneDefective_ItsOtherOneAndTheSpeedThatResults) {
  Scenario scenario = two(ordinary);
  scenario.section().line_speed_kmh = 160;
  scenario.section().design_type = DesignType::c;
  // Design type C, AC: 35 m up to 160 km/h, 15 m up to 120 km/h. Source: Regulation (EU) No
  // 1301/2014, table 4.2.13, from memory.
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 120);  // F1 R2: 29 m
  scenario.defect({1, 1});
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "R1 R2");
  EXPECT_EQ(plan.sections[0].speed_kmh, 120);  // 19 m
  scenario.section().design_type = DesignType::a;
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 80);
}

// P16, source: common practice, no published source.
TEST(WorkingPractice, P16_FacingPairOfSingleArms_OnlyWhereNothingElseIsLeft) {
  EXPECT_EQ(up_on(two(ordinary).plan()).find("R1 F2"), std::string::npos);
  const Plan plan = two(ordinary).defect({1, 1}).defect({2, 2}).plan();
  EXPECT_EQ(up_on(plan), "R1 F2");
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_TRUE(says(plan.sections[0], "facing-pair", Strength::last_resort));
  EXPECT_TRUE(says(plan.sections[0], "put-dead"));  // offered as an alternative
}

// P17, source: common practice, no published source.
TEST(WorkingPractice, P17_FacingPairWithADiamond_ForbiddenSoOneLocomotiveGoesDeadInTow) {
  for (const auto& [first, second] :
       {std::pair(diamond, diamond), std::pair(diamond, PantographFrame::single_arm),
        std::pair(PantographFrame::single_arm, diamond)}) {
    const Plan plan = Scenario()
                          .add(locomotive({.frame = first}))
                          .add(locomotive({.frame = second}))
                          .load(ordinary)
                          .defect({1, 1})
                          .defect({2, 2})
                          .plan();
    EXPECT_EQ(up_on(plan), "R1");
    EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector<int>{2});
    EXPECT_TRUE(says(plan.sections[0], "put-dead", Strength::last_resort));
  }
}

// P18, source: common practice, no published source.
TEST(WorkingPractice, P18_DoubleHeadingSingleStrip_LeadingBothSecondRearOnly) {
  const Plan plan = Scenario()
                        .add(locomotive({.strips = 1}))
                        .add(locomotive({.strips = 1}))
                        .load(ordinary)
                        .plan();
  EXPECT_EQ(up_on(plan), "F1 R1 R2");
}

// P19, source: common practice, no published source.
TEST(WorkingPractice, P19_TwoPairs_TheSystemPicksThePairAndWithinItP1ToP8) {
  const auto multi_system = four_pantograph_locomotive();
  const auto raised = [&](EnergySupply supply, LoadNature nature, bool iced) {
    Scenario scenario = Scenario().add(multi_system).load(nature);
    scenario.section().supply = supply;
    if (iced) {
      scenario.ice();
    }
    return scenario.plan().sections[0].raised;
  };
  using Refs = std::vector<PantographRef>;
  EXPECT_EQ(raised(EnergySupply::ac_15kv, ordinary, false), Refs({{1, 4}}));
  EXPECT_EQ(raised(EnergySupply::dc_3kv, ordinary, false), Refs({{1, 3}}));
  EXPECT_EQ(raised(EnergySupply::ac_15kv, dangerous, false), Refs({{1, 1}}));
  EXPECT_EQ(raised(EnergySupply::dc_3kv, sensitive, false), Refs({{1, 2}}));
  EXPECT_EQ(raised(EnergySupply::ac_15kv, ordinary, true), Refs({{1, 1}, {1, 4}}));
  EXPECT_EQ(raised(EnergySupply::dc_3kv, ordinary, true), Refs({{1, 2}, {1, 3}}));
}

// P20, source: common practice, no published source.
TEST(WorkingPractice, P20_OnePantographFitForTheSystem_ThatOneWhicheverEnd) {
  for (const Cab cab : {Cab::cab1, Cab::cab2}) {
    for (const LoadNature nature : {ordinary, dangerous}) {
      const Plan plan = Scenario().add(one_for_each_system_locomotive(), cab).load(nature).plan();
      EXPECT_EQ(plan.sections[0].raised, std::vector<PantographRef>({{1, 1}}));
      EXPECT_EQ(plan.answer, Answer::permitted);
    }
  }
}

// P21, source: common practice, no published source.
TEST(WorkingPractice, P21_DoubleHeadingOfThese_TheirOnlyOnesAndTheSpeedFollowsFromTheDistance) {
  const auto type = one_for_each_system_locomotive();
  Scenario scenario = Scenario().add(type, Cab::cab1).add(type, Cab::cab2).load(ordinary);
  scenario.section().line_speed_kmh = 160;
  Plan plan = scenario.plan();
  EXPECT_EQ(plan.sections[0].raised, std::vector<PantographRef>({{1, 1}, {2, 1}}));
  EXPECT_NEAR(*plan.sections[0].least_distance_m, 29, 1e-9);
  EXPECT_EQ(plan.sections[0].speed_kmh, 120);  // type A, AC, 20 m and more but less than 85 m
  scenario.vehicle(2).leading_cab = Cab::cab1;
  plan = scenario.plan();
  EXPECT_NEAR(*plan.sections[0].least_distance_m, 19, 1e-9);
  EXPECT_EQ(plan.sections[0].speed_kmh, 80);
}

// P22, source: common practice, no published source.
TEST(WorkingPractice, P22_AmongWhatElseIsEqual_TheGreatestDistanceWins) {
  // The pattern is turned off, so that only distance tells the configurations apart.
  Scenario scenario = two(ordinary);
  for (const char* const id : {"rear-alone", "front-before-another"}) {
    scenario.rule(id).on = false;
  }
  scenario.section().line_speed_kmh = 80;
  EXPECT_EQ(up_on(scenario.plan()), "F1 R2");
  scenario.defect({1, 1});
  EXPECT_EQ(up_on(scenario.plan()), "R1 R2");
}

// P23, source: common practice, no published source.
TEST(WorkingPractice, P23_LightLocomotive_AsP1) {
  EXPECT_EQ(up_on(Scenario().add(locomotive()).plan()), "R1");
}

// P24, source: common practice, no published source.
TEST(WorkingPractice, P24_BankingLocomotiveBehindADangerousLoad_Rear) {
  const Plan plan =
      Scenario().add(locomotive()).load(dangerous).add(locomotive(), Cab::cab2).plan();
  EXPECT_EQ(up_on(plan), "F1 R2");
}

// P25, source: common practice, no published source.
TEST(WorkingPractice, P25_CurrentBeyondOneHeadAt1500V_AsManyAsTheCurrentNeeds) {
  Scenario scenario =
      Scenario().add(locomotive({.supplies = {EnergySupply::dc_1500v}})).load(ordinary);
  scenario.section().supply = EnergySupply::dc_1500v;
  scenario.section().design_type = DesignType::b;
  scenario.vehicle(1).demand = {
      {.supply = EnergySupply::dc_1500v, .running_a = 700, .standstill_a = 100}};
  EXPECT_EQ(up_on(scenario.plan()), "R1");
  scenario.vehicle(1).demand[0].running_a = 701;
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  EXPECT_TRUE(says(plan.sections[0], "current-carried"));
  scenario.vehicle(1).demand[0].running_a = 1401;
  EXPECT_EQ(scenario.plan().answer, Answer::none);
}

// P26, derived from P7 and P16.
TEST(WorkingPractice, P26_DoubleHeadingOnIce_LeadingBothSecondRearOnly) {
  const Plan plan = two(ordinary).ice().plan();
  EXPECT_EQ(up_on(plan), "F1 R1 R2");
  EXPECT_EQ(plan.sections[0].speed_kmh, 60);
}

// P27, source: common practice, no published source.
TEST(WorkingPractice, P27_LocomotiveDeadInTow_None) {
  const Plan plan = two(ordinary).dead(2).plan();
  EXPECT_EQ(plan.sections[0].raised, std::vector<PantographRef>({{1, 2}}));
  EXPECT_TRUE(says(plan.sections[0], "dead-down"));
}

}  // namespace
}  // namespace panup::scenario
