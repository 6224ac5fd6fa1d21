/// The obedient driver finds what is wrong with orders: each case takes the orders of a plan,
/// spoils one of them as a careless writer would, and has them driven.

#include "driving/drive.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "scenario.h"

namespace panup {

namespace {

using scenario::locomotive;
using scenario::Scenario;

/// A locomotive and its train of 319 m on 20 km: works from km 5 to 5.2 with pantographs down, a
/// phase separation section from km 10 to 10.04 with the breaker off, 80 km/h from km 15 on. The
/// rear pantograph is up, 14.5 m behind the front.
Scenario line() {
  Scenario scenario;
  scenario.add(locomotive()).load(LoadNature::ordinary, 300);
  Route& route = scenario.request.route;
  route.sections.front().to_km = 15;
  Section slower = route.sections.front();
  slower.id = "s2";
  slower.from_km = 15;
  slower.to_km = 20;
  slower.line_speed_kmh = 80;
  route.sections.push_back(slower);
  route.lowered = {{.name = "works", .from_km = 5, .to_km = 5.2, .place = {}}};
  route.separations = {{.name = "separation",
                        .kind = SeparationKind::phase,
                        .from_km = 10,
                        .length_m = 40,
                        .pantograph_lowered = false,
                        .breaker_off = true,
                        .place = {}}};
  route.stops = {{.name = "Start", .at_km = 0, .place = {}},
                 {.name = "End", .at_km = 20, .place = {}}};
  return scenario;
}

/// What the driver does wrong by orders that were spoilt; the first fault, or "nothing".
std::string driven(const std::function<void(std::vector<Instruction>&)>& spoil) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  spoil(plan.instructions);
  std::ranges::stable_sort(plan.instructions, {}, &Instruction::at_km);
  plan.contingencies.clear();
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  return faults.empty() ? "nothing" : faults.front().what;
}

/// The order of this kind that stands first at or behind a place.
Instruction& order(std::vector<Instruction>& orders, Action action, double from_km) {
  return *std::ranges::find_if(orders, [&](const Instruction& candidate) {
    return candidate.action == action && candidate.at_km >= from_km;
  });
}

void leave_out(std::vector<Instruction>& orders, Action action, double from_km) {
  orders.erase(orders.begin() + (&order(orders, action, from_km) - orders.data()));
}

TEST(TheObedientDriver, FindsNothingWrongWithThePlanAsItIs) {
  EXPECT_EQ(driven([](auto&) {}), "nothing");
}

TEST(TheObedientDriver, TouchesTheWireInWorksWhenToldTooLateToLower) {
  // Down at km 5.0145 at the latest: 14.5 m behind the front.
  EXPECT_EQ(driven([](auto& orders) { order(orders, Action::lower, 1).at_km = 5; }),
            "1.2 touches the wire within 'works', km 5.000 to 5.200");
}

TEST(TheObedientDriver, TakesReactionAndLoweringTimeAtTheSpeedOrdered) {
  // 60 km/h are 16.7 m/s: with the order 40 m before, there are 3.3 s for reaction and lowering.
  EXPECT_NE(driven([](auto& orders) { order(orders, Action::lower, 1).at_km = 4.975; }), "nothing");
  // The same place at a walking pace is early enough; the breaker is open by then.
  EXPECT_EQ(driven([](auto& orders) {
              order(orders, Action::lower, 1).at_km = 4.975;
              order(orders, Action::speed, 1).speed_kmh = 10;
            }),
            "nothing");
}

TEST(TheObedientDriver, TouchesTheWireInWorksWhenToldTooEarlyToRaise) {
  EXPECT_EQ(driven([](auto& orders) { order(orders, Action::raise, 1).at_km = 5.21; }),
            "1.2 touches the wire within 'works', km 5.000 to 5.200");
}

TEST(TheObedientDriver, LowersUnderCurrentWhenNobodyOpensTheBreaker) {
  EXPECT_EQ(driven([](auto& orders) { leave_out(orders, Action::breaker_off, 1); }),
            "'Lower 1.2': the breaker of vehicle 1 is not open yet");
  EXPECT_EQ(driven([](auto& orders) {
              order(orders, Action::breaker_off, 1).at_km =
                  order(orders, Action::lower, 1).at_km - 0.01;
            }),
            "'Lower 1.2': the breaker of vehicle 1 is not open yet");
}

TEST(TheObedientDriver, ClosesTheBreakerOnlyOnWhatIsUp) {
  EXPECT_EQ(driven([](auto& orders) {
              order(orders, Action::breaker_on, 5).at_km =
                  order(orders, Action::raise, 5).at_km + 0.01;
            }),
            "'Breaker on': 1.2 is not up yet");
}

TEST(TheObedientDriver, HasTheBreakerClosedInTheSeparationSectionWhenToldTooLate) {
  EXPECT_EQ(driven([](auto& orders) { order(orders, Action::breaker_off, 6).at_km = 10.01; }),
            "the breaker of vehicle 1 is closed with 1.2 within 'separation'");
}

TEST(TheObedientDriver, HasTheBreakerClosedInTheSeparationSectionWhenToldTooEarlyToClose) {
  EXPECT_EQ(driven([](auto& orders) { order(orders, Action::breaker_on, 6).at_km = 10.05; }),
            "the breaker of vehicle 1 is closed with 1.2 within 'separation'");
}

TEST(TheObedientDriver, IsTooFastUnderAnyPartOfTheTrain) {
  EXPECT_EQ(driven([](auto& orders) { leave_out(orders, Action::speed, 14); }),
            "120 km/h ordered over 's2' of 80 km/h");
}

TEST(TheObedientDriver, CannotStartWithNoBreakerClosed) {
  EXPECT_EQ(driven([](auto& orders) { leave_out(orders, Action::breaker_on, 0); }),
            "the train is to start at km 0.000 with no breaker closed");
}

TEST(TheObedientDriver, CannotRaiseWhatIsUpOrBroken) {
  EXPECT_EQ(driven([](auto& orders) {
              Instruction again = order(orders, Action::raise, 0);
              again.at_km = 3;
              orders.push_back(again);
            }),
            "'Raise 1.2': 1.2 is up already");
  const Scenario scenario = line();
  const Plan plan = scenario.plan();
  const std::vector<DrivenFault> faults =
      drive({plan.train, plan.route, plan.instructions, PantographRef{1, 2}},
            driven_rules(scenario.request.rules));
  ASSERT_FALSE(faults.empty());
  EXPECT_EQ(faults.front().what, "'Raise 1.2': 1.2 is defective");
  EXPECT_EQ(drive({.train = plan.train,
                   .route = plan.route,
                   .orders = plan.instructions,
                   .failed = PantographRef{1, 2},
                   .words = built_in_words("de")},
                  driven_rules(scenario.request.rules))
                .front()
                .what,
            "„Raise 1.2“: 1.2 ist gestört");
}

TEST(TheObedientDriver, MeetsRecordsOfNumberDistanceAndSpeed) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  plan.route.sections.back().records = {{.number = 1, .distance_m = 0, .speed_kmh = 60}};
  plan.contingencies.clear();
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_NE(faults.front().what.find("no record of 's2' permits it"), std::string::npos);
  // The pantograph comes there 14.5 m after the front.
  EXPECT_NEAR(faults.front().at_km, 15.0145, 0.001);
}

TEST(TheObedientDriver, TouchesNoWireThatTheVehicleIsNotBuiltFor) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->systems = {EnergySupply::ac_25kv};
  std::get<Vehicle>(plan.train.consist[0]).type = type;
  plan.contingencies.clear();
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  ASSERT_FALSE(faults.empty());
  EXPECT_EQ(
      faults.front().what,
      "1.2 touches the wire of 's1': its vehicle is not built for the section's energy supply "
      "system");
}

TEST(TheObedientDriver, IsHeldAgainstTheSlowerOfRecordsThatContradictEachOther) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  plan.contingencies.clear();
  plan.route.sections.back().records = {{.number = 1, .distance_m = 0, .speed_kmh = 200}};
  EXPECT_TRUE(drive(plan, driven_rules(scenario.request.rules)).empty());
  plan.route.sections.back().records.push_back({.number = 1, .distance_m = 0, .speed_kmh = 60});
  EXPECT_FALSE(drive(plan, driven_rules(scenario.request.rules)).empty());
}

TEST(TheObedientDriver, IsHeldOnlyAgainstWhatTheRuleBookLeavesInForce) {
  Scenario scenario = line();
  Plan plan = scenario.plan();
  plan.contingencies.clear();
  plan.route.sections.back().records = {{.number = 1, .distance_m = 0, .speed_kmh = 60}};
  const RuleBook& rules = scenario.request.rules;
  EXPECT_FALSE(drive(plan, driven_rules(rules)).empty());
  EXPECT_TRUE(drive(plan, driven_rules(rules, SpeedFrom::mechanics)).empty());
  scenario.rule("line-record").on = false;
  EXPECT_TRUE(drive(plan, driven_rules(rules)).empty());
  plan.route.sections.back().line_speed_kmh = 60;
  EXPECT_FALSE(drive(plan, driven_rules(rules)).empty());
  scenario.rule("line-speed").on = false;
  EXPECT_TRUE(drive(plan, driven_rules(rules)).empty());
}

TEST(TheObedientDriver, IsUnderTheOldWireWithTheRearOfTheTrain) {
  // Only the wire from km 15 on is closed to the head: the front may be 14.5 m farther.
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  plan.route.sections.back().permitted_head_widths_mm = {1600};
  plan.contingencies.clear();
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults.front().what, "1.2 touches the wire of 's2': its head is not permitted there");
  EXPECT_NEAR(faults.front().at_km, 15.0145, 0.001);
}

/// What a driver of the plan does wrong where the last section says more of what may touch its
/// wire.
template <typename Say>
std::string under_wire_that(const Say& say) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  plan.contingencies.clear();
  say(plan.route.sections.back());
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  return faults.empty() ? "nothing" : faults.front().what;
}

TEST(TheObedientDriver, TouchesNoWireThatDoesNotAdmitThePantograph) {
  EXPECT_EQ(
      under_wire_that([](Section& section) { section.permitted_heads = {HeadType::w1950_type_1}; }),
      "1.2 touches the wire of 's2': its type of head is not permitted there")
      << "its type is not stated";
  EXPECT_EQ(under_wire_that([](Section& section) { section.permitted_head_widths_mm.reset(); }),
            "1.2 touches the wire of 's2': its head is not permitted there");
  EXPECT_EQ(
      under_wire_that([](Section& section) { section.greatest_metallic_content_percent = 0; }),
      "nothing")
      << "plain carbon has none";
  EXPECT_EQ(under_wire_that([](Section& section) { section.greatest_static_force_n = 30; }),
            "1.2 touches the wire of 's2': its static force is more than is permitted there");
  EXPECT_EQ(under_wire_that([](Section& section) { section.current_limitation_required = true; }),
            "1.2 touches the wire of 's2': its vehicle does not limit its current, which is "
            "required there");
  EXPECT_EQ(under_wire_that([](Section& section) { section.current_limitation_required = false; }),
            "nothing");
}

TEST(TheObedientDriver, HandsOutNoPlanWithWrongOrdersAndSaysWhere) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  const DrivenRules rules = driven_rules(scenario.request.rules);
  EXPECT_NO_THROW(must_hold_when_driven(plan, rules));
  order(plan.instructions, Action::raise, 1).at_km = 5.1;
  try {
    must_hold_when_driven(plan, rules);
    FAIL() << "it was handed out";
  } catch (const std::logic_error& error) {
    EXPECT_NE(std::string(error.what()).find("At km 5.100: 1.2 touches the wire within 'works'"),
              std::string::npos)
        << error.what();
  }
}

TEST(TheObedientDriver, DrivesTheOrdersForEveryFailureToo) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  ASSERT_FALSE(plan.contingencies.empty());
  Contingency& second = plan.contingencies.back();
  ASSERT_EQ(second.failed, (PantographRef{1, 2}));
  order(second.instructions, Action::raise, 1).at_km = 5.1;
  std::ranges::stable_sort(second.instructions, {}, &Instruction::at_km);
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  ASSERT_FALSE(faults.empty());
  EXPECT_EQ(faults.front().what,
            "with 1.2 failed: 1.1 touches the wire within 'works', km 5.000 to 5.200");
}

/// The line has boards for its works, where the plan's orders stand: the plan is made without them.
std::string driven_by_boards(const std::vector<std::pair<Board, double>>& boards) {
  const Scenario scenario = line();
  Plan plan = scenario.plan();
  plan.contingencies.clear();
  for (const auto& [board, at_km] : boards) {
    plan.route.landmarks.push_back(
        {.name = "Board", .at_km = at_km, .board = board, .board_of = "works", .place = {}});
  }
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  return faults.empty() ? "nothing" : faults.front().what;
}

TEST(TheObedientDriver, PassesNoBoardWithWhatItForbids) {
  const Plan plan = line().plan();
  std::vector<Instruction> orders = plan.instructions;
  const double off_km = order(orders, Action::breaker_off, 1).at_km;
  const double lower_km = order(orders, Action::lower, 1).at_km;
  EXPECT_EQ(driven_by_boards({{Board::breaker_off, off_km}, {Board::lower, lower_km}}), "nothing");
  EXPECT_EQ(
      driven_by_boards({{Board::breaker_off, off_km - 0.1}}),
      fmt::format("the board \"breaker off\" for 'works', km {:.3f}, is not obeyed", off_km - 0.1));
  EXPECT_EQ(
      driven_by_boards({{Board::lower, lower_km - 0.1}}),
      fmt::format("the board \"lower\" for 'works', km {:.3f}, is not obeyed", lower_km - 0.1));
  EXPECT_EQ(driven_by_boards({{Board::lower, lower_km - 0.1}, {Board::lower, lower_km + 0.01}}),
            "nothing")
      << "the last one counts";
}

TEST(TheObedientDriver, RaisesAndClosesAtNoPlaceBeforeTheFirstBoard) {
  const Plan plan = line().plan();
  std::vector<Instruction> orders = plan.instructions;
  const double raise_km = order(orders, Action::raise, 1).at_km;
  const double on_km = order(orders, Action::breaker_on, 1).at_km;
  EXPECT_EQ(driven_by_boards({{Board::raise, raise_km}, {Board::breaker_on, on_km}}), "nothing");
  EXPECT_EQ(
      driven_by_boards({{Board::raise, raise_km + 0.2}}),
      fmt::format("'Raise 1.2' before the board \"raise\" for 'works', km {:.3f}", raise_km + 0.2));
  EXPECT_EQ(driven_by_boards({{Board::breaker_on, on_km + 0.2}}),
            fmt::format("'Breaker on' before the board \"breaker on\" for 'works', km {:.3f}",
                        on_km + 0.2));
  EXPECT_EQ(driven_by_boards({{Board::raise, raise_km - 0.01}, {Board::raise, raise_km + 0.2}}),
            "nothing")
      << "a long train raises at a later one";
}

}  // namespace

}  // namespace panup
