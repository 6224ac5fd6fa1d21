/// The ladder in combination. Derived: the order of the steps is reasoned from the cases of
/// practice.

#include "plan/ladder.h"

#include <gtest/gtest.h>

#include "scenario.h"

namespace panup::scenario {
namespace {

TEST(Ladder, ALowerStepNeverOutweighsAHigherOne) {
  for (std::size_t higher = 0; higher < rung_count; ++higher) {
    LadderCost loses;
    loses.rungs[higher] = 1;
    LadderCost wins;
    for (std::size_t lower = higher + 1; lower < rung_count; ++lower) {
      wins.rungs[lower] = 1'000'000'000'000;
    }
    EXPECT_LT(wins, loses);
  }
}

TEST(Ladder, CostsGrowWithTheStretchAndAddUp) {
  Verdict verdict;
  verdict.speed_kmh = 90;
  verdict.facing_pairs = 1;
  verdict.raised = 2;
  const LadderCost one = cost_of(verdict, 1000, {.train_length_m = 100});
  EXPECT_EQ(one[Rung::time], 40'000);  // 1 km at 90 km/h
  EXPECT_EQ(one[Rung::facing_pair], 1000);
  EXPECT_EQ((one + one).rungs, cost_of(verdict, 2000, {.train_length_m = 100}).rungs);
}

TEST(Ladder, EachThingThatAVerdictLacksIsPaidOnItsOwnStep) {
  Verdict verdict;
  verdict.speed_kmh = 90;
  const auto paid = [&verdict](Rung rung) {
    return cost_of(verdict, 1000, {.train_length_m = 100})[rung];
  };
  EXPECT_EQ(paid(Rung::current), 0);
  verdict.missing_current_a = 7;
  EXPECT_EQ(paid(Rung::current), 7000);
  EXPECT_EQ(paid(Rung::moving_changes), 0);
  EXPECT_EQ(paid(Rung::least_distance), 0) << "one alone has no distance";
  verdict.least_distance_m = 60;
  verdict.distance_sum_m = 80;
  EXPECT_GT(paid(Rung::least_distance), paid(Rung::distance_sum));
  EXPECT_GT(paid(Rung::distance_sum), 0);
}

TEST(Ladder, ItsStepsAreNamedByWhatIsLostThere) {
  EXPECT_EQ(words_for(Rung::blocked), "a stretch without a permitted configuration");
  EXPECT_EQ(words_for(Rung::left_dangerous),
            "a locomotive put dead in tow that would have kept the dangerous load protected");
  EXPECT_EQ(words_for(Rung::left_sensitive),
            "a locomotive put dead in tow that would have kept the sensitive load protected");
  EXPECT_EQ(words_for(Rung::current), "the current for full power");
  for (std::size_t i = 0; i < rung_count; ++i) {
    EXPECT_FALSE(words_for(static_cast<Rung>(i)).empty()) << i;
  }
}

TEST(Ladder, DangerousLoadDoubleHeaderDefectIceAndALineThatPermitsOne) {
  Scenario scenario = Scenario()
                          .add(locomotive())
                          .add(locomotive())
                          .load(LoadNature::dangerous)
                          .permits(1)
                          .defect({1, 1})
                          .ice();
  const Plan plan = scenario.plan();
  // One locomotive has to go dead in tow; loco 1 has only its rear one left, which would expose the
  // load, so that loco 2 works with its front one.
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "F2");
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector<int>{1});
  EXPECT_EQ(plan.sections[0].speed_rule, "ice-speed");
  EXPECT_TRUE(says(plan.sections[0], "put-dead", Strength::last_resort));
  EXPECT_TRUE(says(plan.sections[0], "ice-two-leading"));
  EXPECT_FALSE(says_exposed(plan.sections[0]));
}

TEST(Ladder, WhereNoLocomotiveMayGoDeadTheSameTrainIsRefusedWithTheReason) {
  Scenario scenario =
      Scenario().add(locomotive()).add(locomotive()).load(LoadNature::dangerous).permits(1).ice();
  scenario.rule("put-dead").on = false;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_TRUE(says(plan.sections[0], "line-record", Strength::forbidden));
}

TEST(Ladder, FacingPairComesBeforeTheLoad) {
  // R1 F2 would protect the load; R1 R2 exposes it, but has no facing pair.
  const Plan plan = Scenario()
                        .add(locomotive())
                        .add(locomotive())
                        .load(LoadNature::dangerous)
                        .defect({1, 1})
                        .plan();
  EXPECT_EQ(up_on(plan), "R1 R2");
}

TEST(Ladder, TheLoadComesBeforeRunningTime) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::sensitive);
  scenario.section().line_speed_kmh = 120;
  // F1 R2 would run at 120 km/h.
  EXPECT_EQ(up_on(scenario.plan()), "F1 F2");
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 80);
}

TEST(Ladder, RunningTimeComesBeforeThePattern) {
  // A long locomotive in the middle: its rear pantograph is farther from both neighbours.
  auto long_type = std::make_shared<VehicleType>(*locomotive());
  long_type->length_m = 40;
  long_type->pantographs[1].from_cab1_m = 35;
  Scenario scenario = Scenario().add(locomotive()).add(long_type).add(locomotive()).permits(3);
  scenario.section().records = {{.number = 3, .distance_m = 19.2, .speed_kmh = 120},
                                {.number = 3, .distance_m = 10, .speed_kmh = 60}};
  const Plan plan = scenario.plan();
  // Prescribed: F1 F2 R3, with F1 19 m before F2. F1 R2 R3 keeps 19.5 m and is faster.
  EXPECT_EQ(up_on(plan), "F1 R2 R3");
  EXPECT_EQ(plan.sections[0].speed_kmh, 120);
}

TEST(Ladder, WordsForEveryRung) {
  for (std::size_t i = 0; i < rung_count; ++i) {
    EXPECT_FALSE(words_for(static_cast<Rung>(i)).empty());
  }
}

}  // namespace
}  // namespace panup::scenario
