#include "judging/current_rule.h"

#include <gtest/gtest.h>

#include "sample_case.h"

/// Demand against what raised pantographs carry. Of the sample's, one carries 700 A; two together
/// carry 2 x 700 / 1.1 = 1273 A, for unequal sharing loads one of them with 1.1 / 2 of all. Full
/// power: P / (efficiency x power factor x 12 kV), the lowest permanent voltage of AC 15 kV
/// (EN 50163). More current, more pantographs: common practice, no published source (P25).

namespace panup {

namespace {

struct CurrentRuleTest : testing::Test {
  SampleCase sample;
  std::shared_ptr<PantographType> front = SampleCase::pantograph();
  std::shared_ptr<PantographType> rear = SampleCase::pantograph();
  std::shared_ptr<VehicleType> type = SampleCase::locomotive(front, rear);

  CurrentRuleTest() {
    sample.add(type);
    sample.section.records = {{4, 5, 120}};
  }
  void states(double running_a, int vehicle = 1) {
    sample.vehicle(vehicle).demand = {{.supply = EnergySupply::ac_15kv, .running_a = running_a}};
  }
  void has_power(double kw) {
    PowerOnSupply power{};
    power.supply = EnergySupply::ac_15kv;
    power.power_kw = kw;
    power.efficiency = 0.8;
    power.power_factor = 0.9;
    type->power = {power};
  }
  std::size_t needed() const {
    const Judge judge = sample.judge();
    return pantographs_for_current(judge.train(), judge.train().vehicles.front(), {0, 1},
                                   EnergySupply::ac_15kv, current_rules(sample.book));
  }
};

TEST_F(CurrentRuleTest, AStatedDemandHasToBeCarried) {
  states(900);
  const Said one = sample.with("1.2");
  EXPECT_TRUE(one.verdict.forbidden);
  EXPECT_EQ(one.of("current-carried"),
            "forbidden: locomotive 1 draws 900 A; 1.2 may carry 700 A. With 1.1 up as well it may "
            "draw 1273 A.");
  const Said both = sample.with("1.1 1.2");
  EXPECT_FALSE(both.verdict.forbidden);
  EXPECT_EQ(both.of("current-carried"),
            "prescribed: locomotive 1 draws 900 A; 1.1 and 1.2 may carry 1273 A.");
}

TEST_F(CurrentRuleTest, WhatOneCarriesNeedsNoWords) {
  states(700);
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden) << "just so much is carried";
  EXPECT_EQ(sample.with("1.2").of("current-carried"), "");
  EXPECT_EQ(sample.with("1.1 1.2").of("current-carried"), "");
  states(0);
  EXPECT_EQ(sample.with("1.2").of("current-carried"), "");
}

TEST_F(CurrentRuleTest, OneMoreHelpsOnlyIfItFitsIsSoundAndCarriesEnough) {
  states(900);
  const std::string none =
      "forbidden: locomotive 1 draws 900 A; 1.2 may carry 700 A. One more pantograph does not "
      "help: none that is left fits here and carries more.";
  sample.failed = {{.vehicle = 1, .pantograph = 1}};
  EXPECT_EQ(sample.with("1.2").of("current-carried"), none);
  sample.failed = {};
  front->supplies.front().running_current_a = 385;  // 2 x 385 / 1.1 = 700: no more than without
  EXPECT_EQ(sample.with("1.2").of("current-carried"), none);
  front->supplies.front().running_current_a = 396;
  EXPECT_EQ(sample.with("1.2").of("current-carried"),
            "forbidden: locomotive 1 draws 900 A; 1.2 may carry 700 A. With 1.1 up as well it may "
            "draw 720 A.");
  front->supplies.front().running_current_a = 700;
  front->head_width_mm = 1600;
  EXPECT_EQ(sample.with("1.2").of("current-carried"), none);
  front->head_width_mm = 1950;
  sample.add(SampleCase::locomotive());
  EXPECT_EQ(sample.with("1.1 1.2 2.2").of("current-carried"),
            "prescribed: locomotive 1 draws 900 A; 1.1 and 1.2 may carry 1273 A.")
      << "those of another locomotive carry none of it";
}

TEST_F(CurrentRuleTest, TheBestOfThoseThatAreLeftIsNamed) {
  auto weak = SampleCase::pantograph();
  weak->supplies.front().running_current_a = 500;
  auto four = std::make_shared<VehicleType>(*type);
  four->pantographs = {{.number = 1, .from_cab1_m = 3, .type = weak, .nearer_cab = Cab::cab1},
                       {.number = 2, .from_cab1_m = 5, .type = front, .nearer_cab = Cab::cab1},
                       {.number = 3, .from_cab1_m = 14, .type = front, .nearer_cab = Cab::cab2},
                       {.number = 4, .from_cab1_m = 16, .type = front, .nearer_cab = Cab::cab2}};
  sample.vehicle(1).type = four;
  states(2000);
  EXPECT_EQ(sample.with("1.4").of("current-carried"),
            "forbidden: locomotive 1 draws 2000 A; 1.4 may carry 700 A. With 1.2 up as well it may "
            "draw 1273 A.");
  // Three: 3 x 700 / 1.1.
  EXPECT_EQ(sample.with("1.2 1.4").of("current-carried"),
            "forbidden: locomotive 1 draws 2000 A; 1.2 and 1.4 may carry 1273 A. With 1.3 up as "
            "well it may draw 1909 A.");
}

TEST_F(CurrentRuleTest, OfFullPowerThatIsOnlyComputedThePowerIsLimited) {
  has_power(7200);  // 7200 / (0.8 x 0.9 x 12) = 833.3 A; 700 A x 12 kV x 0.72 = 6048 kW
  const Said one = sample.with("1.2");
  EXPECT_FALSE(one.verdict.forbidden);
  EXPECT_EQ(one.verdict.missing_current_a, 134) << "133.3 A, and never too little";
  EXPECT_EQ(one.of("current-carried"),
            "prescribed: locomotive 1 draws 833 A at full power and 12000 V, the lowest permanent "
            "voltage; 1.2 may carry 700 A: no more than 6048 kW at the wheels at that voltage. "
            "With 1.1 up as well it may draw 1273 A.");
  const Said both = sample.with("1.1 1.2");
  EXPECT_EQ(both.verdict.missing_current_a, 0);
  EXPECT_EQ(both.of("current-carried"),
            "prescribed: locomotive 1 draws 833 A at full power and 12000 V, the lowest permanent "
            "voltage; 1.1 and 1.2 may carry 1273 A.");
}

TEST_F(CurrentRuleTest, WhatIsMissingIsSummedOverVehicles) {
  has_power(7200);
  sample.add(type);
  EXPECT_EQ(sample.with("1.1 2.2").verdict.missing_current_a, 268);
}

TEST_F(CurrentRuleTest, ADemandNobodyKnowsIsNotJudged) {
  EXPECT_EQ(sample.with("1.2").of("current-carried"), "");
  EXPECT_EQ(sample.with("1.2").of("train-current"), "");
}

TEST_F(CurrentRuleTest, TheTrainsCurrentIsTheSumOfThoseWithOneUp) {
  states(400);
  sample.add(type).add(type);
  states(500, 2);
  states(600, 3);
  EXPECT_EQ(sample.with("1.1 2.2").of("train-current"),
            "note: The train would draw 900 A; the section states no greatest train current: ask "
            "for it.");
  sample.section.greatest_train_current_a = 600;  // two thirds, rounded down
  const Said said = sample.with("1.1 2.2");
  EXPECT_EQ(said.of("train-current"),
            "note: The train would draw 900 A; no more than 600 A may be drawn here: limit the "
            "power to 66 % of it.");
  EXPECT_FALSE(said.verdict.forbidden);
  sample.section.greatest_train_current_a = 900;
  EXPECT_EQ(sample.with("1.1 2.2").of("train-current"), "");
  sample.section.supply.reset();
  EXPECT_EQ(sample.with("1.1 2.2").of("train-current"), "");
}

TEST_F(CurrentRuleTest, AsManyAreWorthRaisingAsTheCurrentNeeds) {
  EXPECT_EQ(needed(), 1U) << "nobody knows the demand";
  states(700);
  EXPECT_EQ(needed(), 1U);
  states(701);
  EXPECT_EQ(needed(), 2U);
  states(5000);
  EXPECT_EQ(needed(), 2U) << "all, where even they do not carry it";
  states(500);
  front->supplies.front().running_current_a = 400;
  EXPECT_EQ(needed(), 2U) << "by the weakest: a set of so many carries it whichever they are";
  sample.rule("current-carried").on = false;
  EXPECT_EQ(needed(), 1U);
}

TEST_F(CurrentRuleTest, WithNoneThatIsUsableOneIsCounted) {
  states(5000);
  const Judge judge = sample.judge();
  EXPECT_EQ(pantographs_for_current(judge.train(), judge.train().vehicles.front(), {},
                                    EnergySupply::ac_15kv, current_rules(sample.book)),
            1U);
}

TEST_F(CurrentRuleTest, LoadsAreTheSharesOfTheMostLoadedOne) {
  rear->supplies.front().running_current_a = 600;
  states(900);
  sample.add(type).add(type);
  states(300, 2);
  sample.section.greatest_train_current_a = 1000;
  const Judge judge = sample.judge();
  const auto loads = [&](PantographSet raised) {
    return current_loads(sample.book, judge.train(), sample.section, raised);
  };
  // 1.1 and 1.2: 1.1 / 2 x 900 A each; 2.2 alone: all of 300 A.
  const CurrentLoads two = loads({0, 1, 3});
  ASSERT_EQ(two.pantographs.size(), 3U);
  EXPECT_EQ(two.pantographs[0].ref, (PantographRef{1, 1}));
  EXPECT_NEAR(two.pantographs[0].greatest_a, 495, 1e-9);
  EXPECT_EQ(two.pantographs[0].limit_a, 700);
  EXPECT_NEAR(two.pantographs[1].greatest_a, 495, 1e-9);
  EXPECT_EQ(two.pantographs[1].limit_a, 600);
  EXPECT_EQ(two.pantographs[2].ref, (PantographRef{2, 2}));
  EXPECT_EQ(two.pantographs[2].greatest_a, 300);
  EXPECT_EQ(two.train_a, 1200);
  EXPECT_EQ(two.train_limit_a, 1000);
  EXPECT_TRUE(two.complete);
  const CurrentLoads unknown = loads({0, 3, 5});
  EXPECT_FALSE(unknown.complete) << "nobody knows what the third draws";
  EXPECT_EQ(unknown.pantographs.size(), 2U);
  EXPECT_EQ(unknown.train_a, 1200);
  sample.section.supply.reset();
  EXPECT_FALSE(loads({0}).complete);
  EXPECT_TRUE(loads({0}).pantographs.empty());
  EXPECT_EQ(loads({0}).train_limit_a, 1000);
}

TEST_F(CurrentRuleTest, WhatIsJustCarriedIsEnough) {
  sample.rule("current-carried").numbers["unequal_sharing"] = 1;
  states(1400);
  EXPECT_EQ(sample.with("1.1 1.2").of("current-carried"),
            "prescribed: locomotive 1 draws 1400 A; 1.1 and 1.2 may carry 1400 A.");
  EXPECT_FALSE(sample.with("1.1 1.2").verdict.forbidden);
}

TEST_F(CurrentRuleTest, LoadsBehindAVehicleWithoutAnyAreCounted) {
  sample.add(type).add(type);
  states(300, 2);
  states(400, 3);
  const Judge judge = sample.judge();
  // Nobody knows what the first draws; the second has nothing up.
  const CurrentLoads loads =
      current_loads(sample.book, judge.train(), sample.section, PantographSet{0, 5});
  EXPECT_FALSE(loads.complete);
  ASSERT_EQ(loads.pantographs.size(), 1U);
  EXPECT_EQ(loads.pantographs[0].ref, (PantographRef{3, 2}));
  EXPECT_EQ(loads.train_a, 400);
}

TEST_F(CurrentRuleTest, WhatIsForbiddenForAnotherReasonIsExplainedToTheEnd) {
  states(900);
  sample.failed = {{.vehicle = 1, .pantograph = 2}};
  const Said said = sample.with("1.2");
  EXPECT_NE(said.of("defective-down"), "");
  EXPECT_NE(said.of("current-carried"), "");
}

TEST_F(CurrentRuleTest, OfAStatedDemandNobodyReckonsThePower) {
  has_power(7200);
  states(900);
  EXPECT_EQ(sample.with("1.2").of("current-carried"),
            "forbidden: locomotive 1 draws 900 A; 1.2 may carry 700 A. With 1.1 up as well it may "
            "draw 1273 A.");
}

TEST_F(CurrentRuleTest, WhatIsLeftOfThePowerIsThatOfTheCurrentCarried) {
  has_power(7200);  // 700 A x 12 kV x 0.72 = 6048 kW, 84 %
  const auto limits = [&](const PantographSet& raised) {
    const Judge judge = sample.judge();
    return power_limits(sample.book, judge.train(), sample.section, raised);
  };
  const std::vector<PowerLimit> one = limits({1});
  ASSERT_EQ(one.size(), 1U);
  EXPECT_EQ(one[0].vehicle, 1);
  EXPECT_EQ(one[0].percent, 84);
  EXPECT_EQ(one[0].because, "1.2 carries no more than 700 A");
  EXPECT_TRUE(limits({0, 1}).empty()) << "two carry 1273 A";
  sample.section.greatest_train_current_a = 500;  // of 833.3 A, 60 %
  const std::vector<PowerLimit> both = limits({0, 1});
  ASSERT_EQ(both.size(), 1U);
  EXPECT_EQ(both[0].vehicle, 0);
  EXPECT_EQ(both[0].percent, 60);
  EXPECT_EQ(limits({1}).size(), 1U) << "the pantograph carries what the line permits";
  sample.section.greatest_train_current_a = 750;
  ASSERT_EQ(limits({1}).size(), 2U) << "of the train and of the vehicle";
  EXPECT_EQ(limits({1})[1].percent, 84);
  sample.rule("train-current").on = false;
  EXPECT_TRUE(limits({0, 1}).empty());
  sample.rule("current-carried").on = false;
  EXPECT_TRUE(limits({1}).empty());
  sample.rule("current-carried").on = true;
  sample.section.supply.reset();
  EXPECT_TRUE(limits({1}).empty());
}

TEST_F(CurrentRuleTest, AStatedDemandIsAFactAndNotLimited) {
  states(900);
  const Judge judge = sample.judge();
  EXPECT_TRUE(power_limits(sample.book, judge.train(), sample.section, {1}).empty());
}

}  // namespace

}  // namespace panup
