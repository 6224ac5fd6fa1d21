/// What is said of several parts of a run as of one; and what is done where vehicles are coupled or
/// uncoupled.

#include "plan/run_plan.h"

#include <gtest/gtest.h>

#include "scenario.h"

namespace panup::scenario {
namespace {

Instruction order(Action action, std::vector<int> vehicles,
                  std::vector<PantographRef> pantographs = {}) {
  Instruction instruction;
  instruction.action = action;
  instruction.vehicles = std::move(vehicles);
  instruction.pantographs = std::move(pantographs);
  return instruction;
}

/// A part that arrives after these orders.
Plan arrives_after(std::vector<Instruction> orders) {
  Plan plan = Scenario().add(locomotive()).add(locomotive()).plan();
  plan.instructions = std::move(orders);
  return plan;
}

std::vector<Instruction> added_to(Plan plan, const std::vector<std::string>& changes) {
  const std::size_t before = plan.instructions.size();
  plan.route.ends_at = "Orrendal";
  add_change_orders(changes, plan);
  return {plan.instructions.begin() + static_cast<std::ptrdiff_t>(before), plan.instructions.end()};
}

// Common practice, no published source: nothing is coupled under power.
TEST(WhereVehiclesChange, BreakersOpenThenPantographsComeDownThenItIsDone) {
  const auto added = added_to(arrives_after({order(Action::raise, {}, {{1, 1}, {2, 2}}),
                                             order(Action::breaker_on, {1, 2})}),
                              {"Vehicle 2 is detached", "Vehicle 1 goes on"});
  ASSERT_EQ(added.size(), 4U);
  EXPECT_EQ(added[0].action, Action::breaker_off);
  EXPECT_EQ(added[0].what, "All breakers off");
  EXPECT_EQ(added[0].vehicles, (std::vector{1, 2}));
  EXPECT_EQ(added[0].vehicle, 0);
  EXPECT_EQ(added[1].action, Action::lower);
  EXPECT_EQ(added[1].what, "Lower 1.1 and 2.2");
  EXPECT_EQ(added[1].pantographs, (std::vector<PantographRef>{{1, 1}, {2, 2}}));
  EXPECT_EQ(added[1].vehicle, 0);
  EXPECT_EQ(added[2].action, Action::shunt);
  EXPECT_EQ(added[2].what, "Vehicle 2 is detached");
  EXPECT_EQ(added[3].what, "Vehicle 1 goes on");
  for (const Instruction& one : added) {
    EXPECT_EQ(one.at_km, 20);
    EXPECT_EQ(one.landmark, "at Orrendal");
  }
  EXPECT_EQ(added[1].text,
            "Lower 1.1 and 2.2, at Orrendal: Nothing is coupled or uncoupled under power.");
  EXPECT_EQ(added[2].text, "Vehicle 2 is detached, at Orrendal.");
}

TEST(WhereVehiclesChange, OnlyWhatIsStillClosedIsOpenedAndOnlyWhatIsStillUpIsLowered) {
  const auto added = added_to(
      arrives_after({order(Action::raise, {}, {{1, 1}, {2, 2}}), order(Action::breaker_on, {1, 2}),
                     order(Action::breaker_off, {2}), order(Action::lower, {}, {{2, 2}})}),
      {});
  ASSERT_EQ(added.size(), 2U);
  EXPECT_EQ(added[0].what, "Breaker off");
  EXPECT_EQ(added[0].vehicles, std::vector{1});
  EXPECT_EQ(added[0].vehicle, 1);
  EXPECT_EQ(added[1].what, "Lower 1.1");
  EXPECT_EQ(added[1].vehicle, 1);
}

TEST(WhereVehiclesChange, OfATrainThatArrivesDeadNothingIsOpenedOrLowered) {
  const auto added =
      added_to(arrives_after({order(Action::raise, {}, {{1, 1}}), order(Action::breaker_on, {1}),
                              order(Action::breaker_off, {1}), order(Action::lower, {}, {{1, 1}})}),
               {"Vehicle 1 is detached"});
  ASSERT_EQ(added.size(), 1U);
  EXPECT_EQ(added[0].action, Action::shunt);
}

TEST(PartsOfARun, TheWorstAnswerIsThatOfAll) {
  RunPlan run;
  run.parts.resize(3);
  EXPECT_EQ(answer_of(run), Answer::permitted);
  run.parts[1].answer = Answer::consent_needed;
  EXPECT_EQ(answer_of(run), Answer::consent_needed);
  run.parts[0].answer = Answer::none;
  EXPECT_EQ(answer_of(run), Answer::none);
}

TEST(PartsOfARun, AFileIsNamedOnceForEachThingThatItIsReadAs) {
  RunPlan run;
  run.parts.resize(2);
  run.parts[0].inputs = {{.role = "stock", .path = "a.toml"},
                         {.role = "rule book", .path = "b.toml"}};
  run.parts[1].inputs = {{.role = "stock", .path = "a.toml"},
                         {.role = "stock", .path = "b.toml"},
                         {.role = "train", .path = "a.toml"}};
  const std::vector<InputFile> all = inputs_of(run);
  ASSERT_EQ(all.size(), 4U);
  EXPECT_EQ(all[2].path, "b.toml");
  EXPECT_EQ(all[3].role, "train");
}

TEST(PartsOfARun, TheirRunningTimesAddUp) {
  RunPlan run;
  run.parts.resize(2);
  run.parts[0].running_time_s = 100;
  run.parts[1].running_time_s = 20.5;
  EXPECT_EQ(running_time_s(run), 120.5);
}

}  // namespace
}  // namespace panup::scenario
