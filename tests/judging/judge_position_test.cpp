#include <gtest/gtest.h>

#include "sample_case.h"

/// Which pantograph of a vehicle is up. Source of the statements: common practice, no published
/// source, by the case that is named; distances are those of the sample's roofs.

namespace panup {

namespace {

struct PositionTest : testing::Test {
  SampleCase sample;

  std::shared_ptr<PantographType> single_strip() {
    auto type = SampleCase::pantograph();
    type->strip_count = 1;
    return type;
  }
  std::shared_ptr<VehicleType> single_strip_locomotive() {
    return SampleCase::locomotive(single_strip(), single_strip());
  }
  void double_heading() { sample.add(SampleCase::locomotive()).add(SampleCase::locomotive()); }
};

// P16.
TEST_F(PositionTest, ARearOneBeforeAFrontOneFacesIt) {
  double_heading();
  const Said said = sample.with("1.2 2.1");
  EXPECT_EQ(said.of("facing-pair"),
            "last resort: 1.2 and 2.1 face each other across the coupling, 9.0 m apart.");
  EXPECT_EQ(said.verdict.facing_pairs, 1);
  EXPECT_FALSE(said.verdict.forbidden);
  for (const char* const others : {"1.1 2.1", "1.1 2.2", "1.2 2.2", "1.1 1.2 2.2"}) {
    EXPECT_EQ(sample.with(others).verdict.facing_pairs, 0) << others;
    EXPECT_EQ(sample.with(others).of("facing-pair"), "") << others;
  }
}

TEST_F(PositionTest, EveryFacingPairCounts) {
  double_heading();
  sample.add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2 2.1 2.2 3.1").verdict.facing_pairs, 2);
  EXPECT_EQ(sample.with("1.1 2.2 3.1").of("facing-pair"),
            "last resort: 2.2 and 3.1 face each other across the coupling, 9.0 m apart.");
}

TEST_F(PositionTest, NobodyFacesAnotherAcrossAVehicleOrALoad) {
  sample.add(SampleCase::locomotive()).load(LoadNature::ordinary).add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2 2.1").verdict.facing_pairs, 0);
  sample = SampleCase();
  double_heading();
  sample.add(SampleCase::locomotive());
  sample.vehicle(2).dead_in_tow = true;
  EXPECT_EQ(sample.with("1.2 3.1").verdict.facing_pairs, 0) << "a dead one between lifts it";
}

TEST_F(PositionTest, TheOtherCabLeadingTurnsFrontIntoRear) {
  sample.add(SampleCase::locomotive(), Cab::cab2).add(SampleCase::locomotive(), Cab::cab2);
  EXPECT_EQ(sample.with("1.1 2.2").verdict.facing_pairs, 1);
  EXPECT_EQ(sample.with("1.2 2.1").verdict.facing_pairs, 0);
}

// P17.
TEST_F(PositionTest, WhereOneOfThePairIsDiamondTypeItIsForbidden) {
  auto diamond = SampleCase::pantograph();
  diamond->frame = PantographFrame::diamond;
  const auto with_diamonds = SampleCase::locomotive(diamond, diamond);
  const std::string text =
      "forbidden: 1.2 and 2.1 face each other across the coupling, 9.0 m apart, one of them "
      "diamond-type.";
  for (const bool ahead : {true, false}) {
    sample = SampleCase();
    sample.add(ahead ? with_diamonds : SampleCase::locomotive());
    sample.add(ahead ? SampleCase::locomotive() : with_diamonds);
    EXPECT_EQ(sample.with("1.2 2.1").of("facing-diamond"), text);
    EXPECT_EQ(sample.with("1.2 2.1").of("facing-pair"), "");
    EXPECT_TRUE(sample.with("1.2 2.1").verdict.forbidden);
    EXPECT_FALSE(sample.with("1.2 2.2").verdict.forbidden);
  }
}

// P8, P18.
TEST_F(PositionTest, ASingleStripLeavesTheLeadingLocomotiveShortOfContactPoints) {
  sample.add(single_strip_locomotive());
  const Said one = sample.with("1.2");
  EXPECT_EQ(one.of("two-points-leading"),
            "prescribed: locomotive 1 has only 1.2 up, a single contact strip.");
  EXPECT_EQ(one.verdict.leading_short, 1);
  EXPECT_EQ(one.verdict.following_short, 0);
  EXPECT_FALSE(one.verdict.forbidden);
  const Said both = sample.with("1.1 1.2");
  EXPECT_EQ(both.of("two-points-leading"),
            "prescribed: locomotive 1 has 1.1 and 1.2 up: 2 contact strips on the wire.");
  EXPECT_EQ(both.verdict.leading_short, 0);
}

TEST_F(PositionTest, TwoStripsOfOneHeadAreEnough) {
  sample.add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2").of("two-points-leading"), "") << "and nothing need be said of it";
  EXPECT_EQ(sample.with("1.1 1.2").of("two-points-leading"), "");
  sample.vehicle(1).type = SampleCase::locomotive(single_strip(), SampleCase::pantograph());
  EXPECT_EQ(sample.with("1.1 1.2").of("two-points-leading"), "") << "1.2 would do by itself";
  EXPECT_EQ(sample.with("1.1").verdict.leading_short, 1);
}

TEST_F(PositionTest, TheStripsOfAnotherLocomotiveDoNotCount) {
  sample.add(single_strip_locomotive()).add(single_strip_locomotive());
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.verdict.leading_short, 1);
  EXPECT_EQ(said.verdict.following_short, 1);
  EXPECT_EQ(said.of("two-points-following"),
            "prescribed: locomotive 2 has only 2.2 up, a single contact strip.");
  EXPECT_EQ(sample.with("1.1 1.2 2.2").verdict.leading_short, 0);
  EXPECT_EQ(sample.with("1.1 1.2 2.2").verdict.following_short, 1);
  // A locomotive put dead in tow needs none.
  EXPECT_EQ(sample.with("1.1 1.2").verdict.following_short, 0);
}

TEST_F(PositionTest, ABookMayForbidASingleContactPoint) {
  sample.add(single_strip_locomotive());
  sample.rule("two-points-leading").strength = Strength::forbidden;
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
  EXPECT_EQ(sample.with("1.2").of("two-points-leading"),
            "forbidden: locomotive 1 has only 1.2 up, a single contact strip.");
  EXPECT_FALSE(sample.with("1.1 1.2").verdict.forbidden);
  EXPECT_EQ(sample.with("1.1 1.2").of("two-points-leading"),
            "prescribed: locomotive 1 has 1.1 and 1.2 up: 2 contact strips on the wire.")
      << "what is kept to is not said to be forbidden";
}

// P7, P26.
TEST_F(PositionTest, IceAsksForTwoOnTheLeadingLocomotiveAndOnThoseThatFollow) {
  double_heading();
  EXPECT_EQ(sample.with("1.2 2.2").verdict.leading_short, 0) << "only where there is ice";
  EXPECT_EQ(sample.with("1.1 1.2 2.2").of("ice-two-leading"), "");
  sample.iced = true;
  const Said said = sample.with("1.1 1.2 2.2");
  EXPECT_EQ(said.of("ice-two-leading"),
            "prescribed: locomotive 1 has 1.1 and 1.2 up because of the ice.");
  EXPECT_EQ(said.of("ice-two-following"),
            "prescribed: locomotive 2 has only 2.2 up; ice asks for two.");
  EXPECT_EQ(said.verdict.leading_short, 0);
  EXPECT_EQ(said.verdict.following_short, 1);
}

// P3, P4, P6.
TEST_F(PositionTest, ALoadIsExposedToWhatIsUpOnTheRearHalfAheadOfIt) {
  for (const LoadNature nature : {LoadNature::dangerous, LoadNature::sensitive}) {
    sample = SampleCase();
    sample.add(SampleCase::locomotive()).load(nature, "tank wagons");
    const bool dangerous = nature == LoadNature::dangerous;
    const std::string name = dangerous ? "dangerous" : "sensitive";
    const Said front = sample.with("1.1");
    EXPECT_EQ(front.of("load-protected"),
              "prescribed: locomotive 1 has its rear half clear for the " + name +
                  " load behind it (tank wagons).");
    EXPECT_EQ(front.verdict.exposed_dangerous + front.verdict.exposed_sensitive, 0);
    const Said rear = sample.with("1.2");
    EXPECT_EQ(rear.of("load-protected"),
              "prescribed: The " + name +
                  " load (tank wagons) is exposed to dust and sparks of 1.2: permitted where "
                  "nothing better is left.");
    EXPECT_EQ(rear.verdict.exposed_dangerous, dangerous ? 1 : 0);
    EXPECT_EQ(rear.verdict.exposed_sensitive, dangerous ? 0 : 1);
  }
}

TEST_F(PositionTest, TheNearestWorkingLocomotiveAheadOfALoadProtectsIt) {
  double_heading();
  sample.load(LoadNature::ordinary, "gravel").load(LoadNature::dangerous);
  EXPECT_EQ(sample.with("1.2 2.1").verdict.exposed_dangerous, 0);
  EXPECT_EQ(sample.with("1.1 2.2").verdict.exposed_dangerous, 1);
  EXPECT_EQ(sample.with("1.2").verdict.exposed_dangerous, 1) << "through one put dead in tow";
  sample.rule("load-protected").strength = Strength::forbidden;
  EXPECT_TRUE(sample.with("1.1 2.2").verdict.forbidden);
  EXPECT_EQ(sample.with("1.1 2.1").of("load-protected"),
            "prescribed: locomotive 2 has its rear half clear for the dangerous load behind it "
            "(petrol).");
  // A distance beyond which an operator asks for no protection: here it begins 300 m behind.
  sample.rule("load-protected").numbers["reach_m"] = 299;
  EXPECT_FALSE(sample.with("1.1 2.2").verdict.forbidden);
  sample.rule("load-protected").numbers["reach_m"] = 300;
  EXPECT_TRUE(sample.with("1.1 2.2").verdict.forbidden);
}

TEST_F(PositionTest, ABookProtectsTheNaturesThatItNames) {
  sample.add(SampleCase::locomotive()).load(LoadNature::sensitive);
  sample.rule("load-protected").lists["natures"] = {"dangerous"};
  EXPECT_EQ(sample.with("1.2").verdict.exposed_sensitive, 0);
  sample.rule("load-protected").lists["natures"] = {"sensitive"};
  EXPECT_EQ(sample.with("1.2").verdict.exposed_sensitive, 1);
  sample.rule("load-protected").on = false;
  EXPECT_EQ(sample.with("1.2").verdict.exposed_sensitive, 0);
}

// P1, P5.
TEST_F(PositionTest, OfALocomotiveByItselfTheRearOneIsPrescribed) {
  sample.add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2").of("rear-alone"), "prescribed: locomotive 1, by itself: 1.2 alone.");
  EXPECT_EQ(sample.with("1.2").verdict.departures, 0);
  EXPECT_EQ(sample.with("1.1").of("rear-alone"),
            "prescribed: locomotive 1, by itself: 1.2 is prescribed; 1.1 instead.");
  EXPECT_EQ(sample.with("1.1").verdict.departures, 2) << "one up that is not, one down";
  EXPECT_EQ(sample.with("1.1 1.2").of("rear-alone"),
            "prescribed: locomotive 1, by itself: 1.2 alone is prescribed; 1.1 as well.");
  EXPECT_EQ(sample.with("1.1 1.2").verdict.departures, 1);
  sample.vehicle(1).defective = {2};
  EXPECT_EQ(sample.with("1.1").of("rear-alone"),
            "prescribed: locomotive 1, by itself: 1.2 is prescribed; 1.1 instead, because what is "
            "prescribed is defective.");
}

// P2.
TEST_F(PositionTest, WhatIsOrderedUpStandsInPlaceOfWhatIsPrescribedOnItsVehicle) {
  double_heading();
  sample.vehicle(2).kept_up = {1};
  EXPECT_EQ(sample.with("1.1 2.1").verdict.departures, 0);
  EXPECT_EQ(sample.with("1.1 2.1").of("rear-alone"),
            "prescribed: locomotive 2, the last working one: 2.2 is prescribed; 2.1 instead, by "
            "order of the train file.");
  EXPECT_EQ(sample.with("1.1 2.1 2.2").verdict.departures, 1) << "no second one beside it";
  EXPECT_EQ(sample.with("1.1 2.1 2.2").of("rear-alone"),
            "prescribed: locomotive 2, the last working one: 2.2 alone is prescribed; 2.1 as well, "
            "by order of the train file.");
  EXPECT_EQ(sample.with("1.2 2.1").verdict.departures, 2) << "of the first nothing is ordered";
  sample.vehicle(2).kept_up = {1, 2};
  EXPECT_EQ(sample.with("1.1 2.1 2.2").verdict.departures, 0);
  sample.failed = {{.vehicle = 2, .pantograph = 1}};
  EXPECT_EQ(sample.with("1.1 2.2").verdict.departures, 0) << "a defective one is not ordered";
}

TEST_F(PositionTest, WithTheOtherCabLeadingItIsTheOtherOne) {
  sample.add(SampleCase::locomotive(), Cab::cab2);
  EXPECT_EQ(sample.with("1.1").of("rear-alone"), "prescribed: locomotive 1, by itself: 1.1 alone.");
  sample.reversed = true;
  EXPECT_EQ(sample.with("1.2").of("rear-alone"), "prescribed: locomotive 1, by itself: 1.2 alone.");
}

// P10, P20.
TEST_F(PositionTest, TheOnlyOneThatFitsIsTheOne) {
  auto dc = SampleCase::pantograph();
  dc->supplies.front().supply = EnergySupply::dc_3kv;
  sample.add(SampleCase::locomotive(SampleCase::pantograph(), dc));
  EXPECT_EQ(sample.with("1.1").of("rear-alone"),
            "prescribed: locomotive 1, by itself: 1.1 is its only one that fits here.");
  EXPECT_EQ(sample.with("1.1").verdict.departures, 0);
}

// P11, P13.
TEST_F(PositionTest, AllButTheLastRaiseTheFrontOne) {
  double_heading();
  sample.add(SampleCase::locomotive());
  const Said said = sample.with("1.1 2.1 3.2");
  EXPECT_EQ(said.of("front-before-another"),
            "prescribed: locomotive 1, with another one behind it: 1.1 alone.\n"
            "prescribed: locomotive 2, with another one behind it: 2.1 alone.");
  EXPECT_EQ(said.of("rear-alone"), "prescribed: locomotive 3, the last working one: 3.2 alone.");
  EXPECT_EQ(said.verdict.departures, 0);
  EXPECT_EQ(sample.with("1.2 2.2 3.2").verdict.departures, 4);
  const Judge judge = sample.judge();
  EXPECT_EQ(judge.prescribed(judge.ground(sample.section, false), {0, 2, 4}),
            (std::vector<PantographSet>{{0}, {2}, {5}}));
  EXPECT_EQ(judge.prescribed(judge.ground(sample.section, false), {0, 2}),
            (std::vector<PantographSet>{{0}, {3}, {}}))
      << "with the third dead, the second is the last";
}

// P12, P24.
TEST_F(PositionTest, AheadOfALoadTheFrontOneAndABankingLocomotiveTheRearOne) {
  sample.add(SampleCase::locomotive()).load(LoadNature::dangerous);
  sample.add(SampleCase::locomotive());
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.of("front-before-load"),
            "prescribed: locomotive 1, nearest ahead of a load to be protected: 1.1 alone.");
  EXPECT_EQ(said.of("rear-alone"), "prescribed: locomotive 2, banking: 2.2 alone.");
  sample.add(SampleCase::locomotive());
  const Said two = sample.with("1.1 2.1 3.2");
  EXPECT_EQ(two.of("front-before-another"),
            "prescribed: locomotive 2, banking, with another one behind it: 2.1 alone.");
  EXPECT_EQ(two.of("rear-alone"),
            "prescribed: locomotive 3, banking, the last working one: 3.2 alone.");
}

TEST_F(PositionTest, ABookMayForbidEveryOtherPattern) {
  sample.add(SampleCase::locomotive());
  sample.rule("rear-alone").strength = Strength::forbidden;
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden);
  EXPECT_EQ(sample.with("1.2").of("rear-alone"), "prescribed: locomotive 1, by itself: 1.2 alone.");
  EXPECT_TRUE(sample.with("1.1").verdict.forbidden);
  EXPECT_EQ(sample.with("1.1").of("rear-alone"),
            "forbidden: locomotive 1, by itself: 1.2 is prescribed; 1.1 instead.")
      << "what rules it out is said to do so";
}

// P11 and P16, for the reasons that are given for them.
TEST_F(PositionTest, WhatIsUpOnTheRearHalfDirectlyBeforeAnotherSoilsItsWindscreen) {
  double_heading();
  EXPECT_EQ(sample.with("1.2 2.2").verdict.dirty_windscreens, 1);
  EXPECT_EQ(sample.with("1.1 2.2").verdict.dirty_windscreens, 0);
  sample.add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2 2.2 3.2").verdict.dirty_windscreens, 2);
  sample = SampleCase();
  sample.add(SampleCase::locomotive()).load(LoadNature::ordinary).add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2 2.2").verdict.dirty_windscreens, 0);
}

TEST_F(PositionTest, EveryRaisedOneCounts) {
  double_heading();
  EXPECT_EQ(sample.with("1.1 1.2 2.2").verdict.raised, 3);
  EXPECT_EQ(sample.with("1.1").verdict.raised, 1);
}

TEST_F(PositionTest, WhatTheLeadingLocomotiveHasIsSaidWhateverFollows) {
  sample.add(single_strip_locomotive()).add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.1 1.2 2.2").of("two-points-leading"),
            "prescribed: locomotive 1 has 1.1 and 1.2 up: 2 contact strips on the wire.");
}

TEST_F(PositionTest, APairAcrossALoadDoesNotHideOneBehindIt) {
  sample.add(SampleCase::locomotive()).load(LoadNature::ordinary);
  sample.add(SampleCase::locomotive()).add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.2 2.1 2.2 3.1").of("facing-pair"),
            "last resort: 2.2 and 3.1 face each other across the coupling, 9.0 m apart.");
}

}  // namespace

}  // namespace panup
