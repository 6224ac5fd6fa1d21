/// What follows from the cases of practice by reasoning. Every test here is of a derived default,
/// not of something practice tells; an operator may change it.

#include <gtest/gtest.h>

#include "scenario.h"

namespace panup::scenario {
namespace {

using enum LoadNature;

/// A pantograph by number of the vehicle: front or rear with cab 1 leading.
constexpr PantographRef front(int vehicle) { return {vehicle, 1}; }
constexpr PantographRef rear(int vehicle) { return {vehicle, 2}; }

struct DerivedCase {
  const char* name;
  int locomotives;
  LoadNature nature;
  bool iced;
  std::vector<PantographRef> defective;
  const char* expected;
  bool exposed = false;  ///< the load's exposure is said
};

class Derived : public testing::TestWithParam<DerivedCase> {};

TEST_P(Derived, Default) {
  const DerivedCase& derived = GetParam();
  Scenario scenario;
  for (int i = 0; i < derived.locomotives; ++i) {
    scenario.add(locomotive());
  }
  scenario.load(derived.nature).permits(6);
  for (const PantographRef ref : derived.defective) {
    scenario.defect(ref);
  }
  if (derived.iced) {
    scenario.ice();
  }
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), derived.expected);
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(says_exposed(plan.sections[0]), derived.exposed);
}

INSTANTIATE_TEST_SUITE_P(
    Defects, Derived,
    testing::Values(
        DerivedCase{"DoubleOrdinaryF1", 2, ordinary, false, {front(1)}, "R1 R2"},
        DerivedCase{"DoubleOrdinaryR2", 2, ordinary, false, {rear(2)}, "F1 F2"},
        DerivedCase{"DoubleOrdinaryF1AndR2", 2, ordinary, false, {front(1), rear(2)}, "R1 F2"},
        DerivedCase{"DoubleLoadF1", 2, dangerous, false, {front(1)}, "R1 R2", true},
        DerivedCase{"DoubleLoadF2", 2, dangerous, false, {front(2)}, "F1 R2", true},
        DerivedCase{"TripleOrdinaryF1", 3, ordinary, false, {front(1)}, "R1 R2 R3"},
        DerivedCase{"TripleOrdinaryF2", 3, ordinary, false, {front(2)}, "F1 R2 R3"},
        DerivedCase{"TripleOrdinaryR3", 3, ordinary, false, {rear(3)}, "F1 F2 F3"},
        DerivedCase{"TripleOrdinaryF1AndR2", 3, ordinary, false, {front(1), rear(2)}, "R1 F2 R3"},
        DerivedCase{"TripleLoadF1", 3, dangerous, false, {front(1)}, "R1 R2 R3", true},
        DerivedCase{"TripleLoadF2", 3, sensitive, false, {front(2)}, "F1 R2 R3", true},
        DerivedCase{"TripleLoadF3", 3, dangerous, false, {front(3)}, "F1 F2 R3", true}),
    [](const auto& tested) { return tested.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Ice, Derived,
    testing::Values(DerivedCase{"SingleF1", 1, ordinary, true, {front(1)}, "R1"},
                    DerivedCase{"SingleR1", 1, ordinary, true, {rear(1)}, "F1"},
                    DerivedCase{"DoubleF1", 2, ordinary, true, {front(1)}, "R1 R2"},
                    DerivedCase{"DoubleR1", 2, ordinary, true, {rear(1)}, "F1 F2 R2"},
                    DerivedCase{"DoubleR2", 2, ordinary, true, {rear(2)}, "F1 F2"},
                    DerivedCase{"Triple", 3, ordinary, true, {}, "F1 R1 R2 R3"},
                    DerivedCase{"SingleLoad", 1, dangerous, true, {}, "F1 R1", true},
                    DerivedCase{"DoubleLoad", 2, dangerous, true, {}, "F1 R1 R2", true}),
    [](const auto& tested) { return tested.param.name; });

TEST(DerivedIce, ASingleLocomotiveWithOneDefectiveSaysThatTwoAreMissingAndKeepsTheIceSpeed) {
  const Plan plan = Scenario().add(locomotive()).defect(rear(1)).ice().plan();
  EXPECT_EQ(plan.sections[0].speed_rule, "ice-speed");
  EXPECT_TRUE(says(plan.sections[0], "ice-two-leading"));
}

TEST(DerivedIce, ATripleHeaderKeepsToWhatTheLinePermits) {
  Scenario scenario =
      Scenario().add(locomotive()).add(locomotive()).add(locomotive()).permits(3).ice();
  EXPECT_EQ(up_on(scenario.plan()), "F1 F2 R3");
}

TEST(DerivedIce, IceWithoutAnIceSpeedIsAMistakeInTheInput) {
  Scenario scenario = Scenario().add(locomotive()).ice();
  scenario.rule("ice-speed").numbers.clear();
  ASSERT_EQ(cross_check(scenario.request).size(), 1U);
  EXPECT_NE(cross_check(scenario.request)[0].text.find("ice speed"), std::string::npos);
  scenario.rule("ice-speed").on = false;
  EXPECT_EQ(cross_check(scenario.request).size(), 1U);
}

const Roof single_strip{.strips = 1};

TEST(DerivedSingleStrip, WithALoadToProtectBothGoUpAndItIsSaid) {
  const Plan plan = Scenario().add(locomotive(single_strip)).load(dangerous).plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  EXPECT_TRUE(says_exposed(plan.sections[0]));
}

TEST(DerivedSingleStrip, OneOfThePairDefectiveIsAsP9AtP9sSpeed) {
  const Plan plan = Scenario().add(locomotive(single_strip)).defect(front(1)).plan();
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_EQ(plan.sections[0].speed_kmh, 40);
}

TEST(DerivedMixedDouble, SingleStripFirst) {
  const Plan plan =
      Scenario().add(locomotive(single_strip)).add(locomotive()).load(ordinary).plan();
  EXPECT_EQ(up_on(plan), "F1 R1 R2");
}

TEST(DerivedMixedDouble, MultiStripFirst) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive(single_strip)).load(ordinary);
  EXPECT_EQ(up_on(scenario.permits(3).plan()), "F1 F2 R2");
  EXPECT_EQ(up_on(scenario.permits(2).plan()), "F1 R2");
}

TEST(DerivedMixedDouble, MultiStripFirstWithALoadToProtect) {
  const Plan plan =
      Scenario().add(locomotive()).add(locomotive(single_strip)).load(dangerous).plan();
  EXPECT_EQ(up_on(plan), "F1 F2");
}

TEST(DerivedFacingPair, ADeadLocomotiveBetweenLiftsItButTheDistanceCounts) {
  const Plan plan = Scenario()
                        .add(locomotive())
                        .add(locomotive())
                        .add(locomotive())
                        .dead(2)
                        .defect(front(1))
                        .defect(rear(3))
                        .plan();
  EXPECT_EQ(up_on(plan), "R1 F2");
  EXPECT_FALSE(says(plan.sections[0], "facing-pair"));
  EXPECT_NEAR(*plan.sections[0].least_distance_m, 28, 1e-9);
}

TEST(DerivedDeadInTow, TheOneWhoseLossKeepsTheLoadProtectedGoesDead) {
  const Plan plan = Scenario()
                        .add(locomotive({.frame = PantographFrame::diamond}))
                        .add(locomotive({.frame = PantographFrame::diamond}))
                        .load(dangerous)
                        .defect(front(1))
                        .defect(rear(2))
                        .plan();
  EXPECT_EQ(up_on(plan), "F2");
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector<int>{1});
}

TEST(DerivedDeadInTow, ElseNotTheLeadingOne) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(ordinary).permits(1);
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector<int>{2});
}

TEST(DerivedLoad, ProtectionBindsThroughWagonsAndDeadLocomotives) {
  EXPECT_EQ(up_on(Scenario().add(locomotive()).load(ordinary).load(dangerous).plan()), "F1");
  EXPECT_EQ(up_on(Scenario().add(locomotive()).add(locomotive()).load(dangerous).dead(2).plan()),
            "F1");
}

TEST(DerivedLoad, BeyondTheOperatorsDistanceItDoesNotBind) {
  Scenario scenario = Scenario().add(locomotive()).load(ordinary, 300).load(dangerous);
  scenario.rule("load-protected").numbers["reach_m"] = 300;
  EXPECT_EQ(up_on(scenario.plan()), "F1");
  scenario.rule("load-protected").numbers["reach_m"] = 299;
  EXPECT_EQ(up_on(scenario.plan()), "R1");
}

TEST(DerivedLoad, InMidTrainWithLoadOnBothSidesFront) {
  const Plan plan =
      Scenario().add(locomotive()).load(dangerous).add(locomotive()).load(dangerous).plan();
  EXPECT_EQ(up_on(plan), "F1 F2");
}

TEST(DerivedLoad, LoadAheadOfAPushingLocomotiveRear) {
  EXPECT_EQ(up_on(Scenario().load(dangerous).add(locomotive()).plan()), "R1");
}

TEST(DerivedBanking, BankersHaveTheirOwnFirstAndLastAndCountTowardsTheNumber) {
  Scenario scenario =
      Scenario().add(locomotive()).load(dangerous).add(locomotive()).add(locomotive()).permits(3);
  EXPECT_EQ(up_on(scenario.plan()), "F1 F2 R3");
  scenario.permits(2);
  EXPECT_EQ(scenario.plan().sections[0].put_dead_in_tow.size(), 1U);
}

TEST(DerivedUnits, CoupledElectricUnitsAsDoubleHeading) {
  EXPECT_EQ(up_on(Scenario().add(electric_unit()).add(electric_unit()).plan()), "F1 R2");
}

TEST(DerivedReversal, FrontBecomesRearAndTheLoadComesAhead) {
  Scenario scenario = Scenario().add(locomotive()).load(dangerous);
  scenario.request.route.stops = {{.name = "Terminus", .at_km = 10, .reversal = true, .place = {}}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.sections.size(), 2U);
  EXPECT_EQ(plan.sections[0].raised, std::vector<PantographRef>({{1, 1}}));  // front, load behind
  EXPECT_TRUE(plan.sections[1].reversed);
  // Now the locomotive pushes: the load is ahead, so the rear one, which is the same roof place.
  EXPECT_EQ(plan.sections[1].raised, std::vector<PantographRef>({{1, 1}}));
  EXPECT_EQ(up_on(plan, 1), "R1");
}

}  // namespace
}  // namespace panup::scenario
