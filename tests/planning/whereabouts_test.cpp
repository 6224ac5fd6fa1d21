/// The stretches that a train passes without power, and what room lies between them.

#include "plan/whereabouts.h"

#include <gtest/gtest.h>

#include "plan/orders.h"
#include "plan/planning_case.h"
#include "plan/powerless.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

SeparationSection separation_at(const std::string& name, double from_km) {
  SeparationSection separation;
  separation.name = name;
  separation.kind = SeparationKind::phase;
  separation.from_km = from_km;
  separation.length_m = 40;
  separation.breaker_off = true;
  return separation;
}

LoweredStretch works(const std::string& name, double from_km) {
  return {.name = name, .from_km = from_km, .to_km = from_km + 0.1, .place = {}};
}

std::vector<std::string> names_of(const std::vector<PowerlessZone>& zones) {
  std::vector<std::string> names;
  for (const PowerlessZone& zone : zones) {
    names.push_back(zone.name);
  }
  return names;
}

TEST(PowerlessZones, StandInTheOrderInWhichTheTrainComesToThem) {
  Scenario scenario = Scenario().add(locomotive());
  Route& route = scenario.request.route;
  route.separations = {separation_at("First", 3), separation_at("Third", 12)};
  route.lowered = {works("Second", 8), works("Fourth", 16)};
  std::vector<std::string> notes;
  EXPECT_EQ(names_of(powerless_zones(scenario.request, notes)),
            (std::vector<std::string>{"First", "Second", "Third", "Fourth"}));
  EXPECT_TRUE(notes.empty());
}

/// Behind works the driver takes in that they are over, raises, takes that in, closes the breaker;
/// before the next he opens it and lowers. The train runs on at the lower of the two speeds.
double room_between_works_km(const Scenario& scenario, double slowest_kmh) {
  const DriverTimes times = driver_times(scenario.request.rules);
  const auto type = pantograph({});
  const double seconds = (times.reaction_s + type->raising_time_s) +
                         2 * (times.reaction_s + times.breaker_s) +
                         (times.reaction_s + type->lowering_time_s);
  // The rear pantograph has to be out of one, and the front one is the first in the other.
  return seconds * slowest_kmh / 3600 + (14.5 - 4.5) / 1000;
}

TEST(PowerlessZones, AreOneWhereTheTrainHasNoRoomToRaiseCloseOpenAndLower) {
  // Raised at no more than 60 km/h, lowered at no more than 80; orders are rounded to 10 m each.
  Scenario scenario = Scenario().add(locomotive());
  const double room_km = room_between_works_km(scenario, 60);
  scenario.request.route.departs_km = 2;  // a stand elsewhere makes no room
  for (const bool enough : {false, true}) {
    const double second_km = 8.1 + room_km + (enough ? 0.05 : 0.03);
    scenario.request.route.lowered = {works("Works", 8), works("More works", second_km)};
    std::vector<std::string> notes;
    EXPECT_EQ(powerless_zones(scenario.request, notes).size(), enough ? 2U : 1U);
    EXPECT_EQ(notes.empty(), enough);
  }
}

TEST(PowerlessZones, ARuleForLoweringThatStatesNoSpeedOrHoldsElsewhereLeavesNoMoreRoom) {
  // The operator has a rule of his own beside the one that states the speeds.
  Scenario scenario = Scenario().add(locomotive());
  scenario.section().line = "7";
  Rule own = scenario.rule("change-while-lowered");
  own.id = "own";
  own.numbers.clear();
  scenario.request.rules.rules.push_back(own);
  const double room_km = room_between_works_km(scenario, 60);
  scenario.request.route.lowered = {works("Works", 8), works("More works", 8.1 + 0.9 * room_km)};
  const auto zones = [&scenario] {
    std::vector<std::string> notes;
    return powerless_zones(scenario.request, notes).size();
  };
  EXPECT_EQ(zones(), 1U);
  Rule& slow = scenario.request.rules.rules.back();
  slow.numbers = {{"lowering_speed_kmh", 10}, {"raising_speed_kmh", 10}};
  slow.only_for.lines = {"8"};
  EXPECT_EQ(zones(), 1U) << "on line 7 the train runs through at 60 km/h";
  slow.only_for.lines = {"7"};
  EXPECT_EQ(zones(), 2U) << "at 10 km/h there is room";
}

TEST(RoomForAChange, EndsWhereTheOrdersForTheNextWorksBegin) {
  Scenario scenario = Scenario().add(locomotive());
  Route& route = scenario.request.route;
  route.landmarks = {{.name = "Board", .at_km = 10, .change_on_the_move = true, .place = {}}};
  route.lowered = {works("Works", 12)};
  const PlanningCase planning = prepare(scenario.request);
  const auto entered = std::ranges::find(planning.pieces, 10, &Piece::from_km);
  ASSERT_NE(entered, planning.pieces.end());
  // Breaker and lowering, each with the driver's reaction, at 120 km/h; the front pantograph, 4.5 m
  // behind the front, has to be down. Orders are rounded.
  const DriverTimes times = driver_times(scenario.request.rules);
  const auto type = pantograph({});
  const double seconds = 2 * times.reaction_s + times.breaker_s + type->lowering_time_s;
  EXPECT_NEAR(entered->change_room_km, 12.0045 - seconds * 120 / 3600 - rounding_km - 10, 1e-9);
}

TEST(PowerlessStretches, ReachFromTheFirstThatIsPassedToTheEndOfTheLast) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.route.lowered = {works("Works", 8)};
  const PlanningCase planning = prepare(scenario.request);
  const auto stretches =
      powerless_stretches(planning, place_orders(planning, find_way(planning, {}), {}, {}));
  ASSERT_EQ(stretches.size(), 1U);
  EXPECT_EQ(stretches[0].from_km(), 8);
  EXPECT_EQ(stretches[0].to_km(), 8.1);
  EXPECT_LT(stretches[0].off_km, 8.0);
  EXPECT_GT(stretches[0].on_km, 8.1);
}

TEST(MarginsOfAPlan, StandForIcedWireAndOtherWireApart) {
  // Both are up either way, at 60 km/h.
  Scenario scenario = Scenario().add(locomotive({.strips = 1})).load(LoadNature::ordinary);
  scenario.rule("single-strip-speed").numbers["speed_kmh"] = 60;
  scenario.section().line_speed_kmh = 60;
  scenario.request.conditions.ice = {{10, 20}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.margins.size(), 2U);
  EXPECT_FALSE(plan.sections[plan.margins[0].planned].iced);
  EXPECT_TRUE(plan.sections[plan.margins[1].planned].iced);
}

}  // namespace
}  // namespace panup::scenario
