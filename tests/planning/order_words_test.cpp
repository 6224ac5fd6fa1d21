/// What the driver reads: what to do, where, and why.

#include <gtest/gtest.h>

#include <algorithm>

#include "plan/instructions.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

std::vector<Instruction> orders_for(const Plan& plan, Action action) {
  std::vector<Instruction> found;
  std::ranges::copy_if(plan.instructions, std::back_inserter(found),
                       [action](const Instruction& one) { return one.action == action; });
  return found;
}

/// Works from km 10 to 10.2, passed with pantographs down.
Scenario with_works(Scenario scenario) {
  scenario.request.route.lowered = {{.name = "Works", .from_km = 10, .to_km = 10.2, .place = {}}};
  return scenario;
}

TEST(OrderWords, NameEveryPantographThatIsMeant) {
  const Plan plan = with_works(Scenario().add(locomotive()).add(locomotive())).plan();
  const auto raise = orders_for(plan, Action::raise);
  const auto lower = orders_for(plan, Action::lower);
  ASSERT_EQ(raise.size(), 2U);
  ASSERT_EQ(lower.size(), 1U);
  EXPECT_EQ(raise[1].what, "Raise 1.1 and 2.2");
  EXPECT_EQ(lower[0].what, "Lower 1.1 and 2.2");
}

TEST(OrderWords, SayWhoseBreakerWhereATrainHasSeveral) {
  const Plan one = with_works(Scenario().add(locomotive())).plan();
  EXPECT_EQ(orders_for(one, Action::breaker_off).at(0).what, "Breaker off");
  EXPECT_EQ(orders_for(one, Action::breaker_on).at(0).what, "Breaker on");
  const Plan two = with_works(Scenario().add(locomotive()).add(locomotive())).plan();
  const Instruction off = orders_for(two, Action::breaker_off).at(0);
  EXPECT_EQ(off.what, "All breakers off");
  EXPECT_EQ(off.vehicles, (std::vector{1, 2}));
  EXPECT_EQ(off.vehicle, 0) << "several";
  EXPECT_EQ(orders_for(one, Action::breaker_off).at(0).vehicle, 1);
}

TEST(OrderWords, SayWhichVehiclesGoDeadInTow) {
  const Plan two = Scenario().add(locomotive()).add(locomotive()).permits(1).plan();
  const auto tow = orders_for(two, Action::tow);
  ASSERT_EQ(tow.size(), 1U);
  EXPECT_TRUE(tow[0].what == "Vehicle 1 goes dead in tow, pantographs down" ||
              tow[0].what == "Vehicle 2 goes dead in tow, pantographs down")
      << tow[0].what;
  EXPECT_EQ(tow[0].vehicles, std::vector{tow[0].vehicle});
  const Plan three =
      Scenario().add(locomotive()).add(locomotive()).add(locomotive()).permits(1).plan();
  const auto both = orders_for(three, Action::tow);
  ASSERT_EQ(both.size(), 1U);
  EXPECT_NE(both[0].what.find(" go dead in tow, pantographs down"), std::string::npos)
      << both[0].what;
  EXPECT_EQ(both[0].what.find("Vehicles "), 0U) << both[0].what;
  EXPECT_EQ(both[0].vehicles.size(), 2U);
}

TEST(OrderWords, BeginWithWhatToDoThenThePlaceThenTheWholeReason) {
  Scenario scenario = with_works(Scenario().add(locomotive()));
  scenario.request.route.landmarks = {
      {.name = "Works board", .at_km = 9.6, .change_on_the_move = false, .place = {}}};
  scenario.section().line_speed_kmh = 90;
  const Plan plan = scenario.plan();
  for (const Instruction& order : plan.instructions) {
    const std::string begins = order.what + (order.landmark.empty() ? "" : ", " + order.landmark) +
                               (order.reason.empty() ? "." : ": ");
    EXPECT_EQ(order.text.find(begins), 0U) << order.text;
    EXPECT_EQ(order.text.back(), '.') << order.text;
    EXPECT_EQ(order.reason.empty(), order.text == begins) << order.text;
  }
  const Instruction first = orders_for(plan, Action::speed).at(0);
  EXPECT_EQ(first.what, "90 km/h from here");
  EXPECT_EQ(first.text, "90 km/h from here: Line speed 90 km/h.");
  EXPECT_TRUE(std::ranges::any_of(plan.instructions, [](const Instruction& order) {
    return order.landmark == "at Works board";
  }));
}

TEST(OrderWords, OfAnswersAndActionsAreThoseOfTheTrade) {
  EXPECT_EQ(name_of(Answer::permitted), "permitted");
  EXPECT_EQ(name_of(Answer::consent_needed), "consent needed");
  EXPECT_EQ(name_of(Answer::none), "no permitted configuration");
  EXPECT_EQ(name_of(Action::stop_short), "stop short");
}

}  // namespace
}  // namespace panup::scenario
