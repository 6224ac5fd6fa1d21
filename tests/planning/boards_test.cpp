/// Orders stand at the boards that the line has for a stretch passed without power. Common
/// practice, no published source.

#include <gtest/gtest.h>

#include <algorithm>

#include "scenario.h"

namespace panup::scenario {

namespace {

/// A locomotive and its train of 319 m, works with pantographs down from km 10 to 10.2. The rear
/// pantograph is up, 14.5 m behind the front; down it has to be by km 10.0145. At 60 km/h, reaction
/// and lowering take 4 s + 5 s.
Scenario on_boards() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  scenario.request.route.lowered = {{.name = "works", .from_km = 10, .to_km = 10.2, .place = {}}};
  return scenario;
}

Scenario& with(Scenario& scenario, Board board, double at_km, const std::string& of = "works") {
  std::vector<Landmark>& landmarks = scenario.request.route.landmarks;
  landmarks.push_back({.name = std::string(name_of(board)) + " board",
                       .at_km = at_km,
                       .board = board,
                       .board_of = of,
                       .place = {}});
  std::ranges::stable_sort(landmarks, {}, &Landmark::at_km);
  return scenario;
}

const Instruction& order(const Plan& plan, Action action) {
  return *std::ranges::find_if(plan.instructions, [&](const Instruction& candidate) {
    return candidate.action == action && candidate.at_km > 5;
  });
}

std::vector<std::string> said_of_boards(const Plan& plan) {
  std::vector<std::string> texts;
  for (const PlannedSection& section : plan.sections) {
    for (const Finding& finding : section.findings) {
      if (finding.rule == "line-boards") {
        EXPECT_EQ(finding.kept, false);
        texts.push_back(finding.text);
      }
    }
  }
  return texts;
}

TEST(Boards, OrdersStandAtThemHoweverFarTheyAre) {
  Scenario scenario = on_boards();
  with(scenario, Board::breaker_off, 8.2);
  with(scenario, Board::lower, 9.1);
  with(scenario, Board::raise, 10.4);
  with(scenario, Board::breaker_on, 11.7);
  const Plan plan = scenario.plan();
  EXPECT_EQ(order(plan, Action::breaker_off).at_km, 8.2);
  EXPECT_EQ(order(plan, Action::lower).at_km, 9.1);
  EXPECT_EQ(order(plan, Action::raise).at_km, 10.4);
  EXPECT_EQ(order(plan, Action::breaker_on).at_km, 11.7);
  EXPECT_EQ(order(plan, Action::raise).landmark, "at raise board");
  EXPECT_TRUE(said_of_boards(plan).empty());
}

TEST(Boards, OfSeveralTheOrderStandsAtTheOneForThisTrain) {
  // A board for trains of each length: the rear pantograph leaves the works at km 10.2145.
  Scenario scenario = on_boards();
  for (const double km : {9.0, 9.5, 9.99}) {
    with(scenario, Board::lower, km);
  }
  for (const double km : {10.21, 10.3, 10.6}) {
    with(scenario, Board::raise, km);
  }
  const Plan plan = scenario.plan();
  EXPECT_EQ(order(plan, Action::lower).at_km, 9.5);
  EXPECT_EQ(order(plan, Action::raise).at_km, 10.3);
  EXPECT_TRUE(said_of_boards(plan).empty());
}

TEST(Boards, OneThatComesTooSoonForALongTrainIsNotObeyedAndThatIsSaid) {
  Scenario scenario = on_boards();
  with(scenario, Board::raise, 10.205);
  const Plan plan = scenario.plan();
  EXPECT_GE(order(plan, Action::raise).at_km, 10.2145);
  EXPECT_NE(order(plan, Action::raise).reason.find("not yet at the board at km 10.205"),
            std::string::npos)
      << order(plan, Action::raise).reason;
  ASSERT_EQ(said_of_boards(plan).size(), 1U);
  EXPECT_EQ(said_of_boards(plan).front(),
            "The board \"raise\" for works, km 10.205, comes too soon for this train: what it says "
            "is done at km 10.220.");
}

TEST(Boards, OneThatComesTooLateIsNotWaitedFor) {
  Scenario scenario = on_boards();
  with(scenario, Board::lower, 9.98);
  const Plan plan = scenario.plan();
  EXPECT_LT(order(plan, Action::lower).at_km, 9.98);
  EXPECT_NE(order(plan, Action::lower).reason.find("before the board at km 9.980"),
            std::string::npos);
  ASSERT_EQ(said_of_boards(plan).size(), 1U);
}

TEST(Boards, TheBreakerIsClosedAtItsBoardNoSooner) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.route.separations = {{.name = "separation",
                                         .kind = SeparationKind::phase,
                                         .from_km = 10,
                                         .length_m = 40,
                                         .pantograph_lowered = false,
                                         .breaker_off = true,
                                         .place = {}}};
  with(scenario, Board::breaker_off, 8.5, "separation");
  with(scenario, Board::breaker_on, 11.25, "separation");
  const Plan plan = scenario.plan();
  EXPECT_EQ(order(plan, Action::breaker_off).at_km, 8.5);
  EXPECT_EQ(order(plan, Action::breaker_on).at_km, 11.25);
}

TEST(Boards, OfSeveralForTheBreakerTheOneCountsThatComesWhenAllIsUp) {
  // Up again no sooner than 10.2145 + 10 s at 60 km/h.
  Scenario scenario = on_boards();
  for (const double km : {10.25, 10.7, 10.9}) {
    with(scenario, Board::breaker_on, km);
  }
  const Plan plan = scenario.plan();
  EXPECT_LT(order(plan, Action::raise).at_km, 10.3);
  EXPECT_EQ(order(plan, Action::breaker_on).at_km, 10.7);
}

TEST(Boards, WhereTheOrderToRaiseIsTiedToALandmarkTheBreakerWaitsForIt) {
  Scenario scenario = on_boards();
  scenario.request.route.landmarks = {{.name = "Signal box", .at_km = 10.26, .place = {}}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(order(plan, Action::raise).at_km, 10.26);
  // 4 s + 6 s at 60 km/h.
  EXPECT_GE(order(plan, Action::breaker_on).at_km, 10.26 + 10 * 60.0 / 3600);
}

TEST(Boards, WhereTheTrainStandsBeforeTheyComeTheyAreNotWaitedFor) {
  Scenario scenario = on_boards();
  with(scenario, Board::raise, 10.9);
  scenario.request.route.stops = {{.name = "Stop", .at_km = 10.6, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(order(plan, Action::raise).at_km, 10.6);
  ASSERT_EQ(said_of_boards(plan).size(), 1U);
  EXPECT_NE(said_of_boards(plan).front().find("is done where the train stands, km 10.600"),
            std::string::npos);
}

TEST(Boards, TheBreakerStaysOpenWhereTheNextBoardStandsBeforeTheLast) {
  Scenario scenario = on_boards();
  scenario.request.route.lowered.push_back(
      {.name = "more works", .from_km = 14, .to_km = 14.2, .place = {}});
  const auto breaker_orders = [&] {
    const Plan plan = scenario.plan();
    return std::ranges::count(plan.instructions, Action::breaker_off, &Instruction::action);
  };
  EXPECT_EQ(breaker_orders(), 2);
  with(scenario, Board::breaker_on, 12);
  EXPECT_EQ(breaker_orders(), 2);
  with(scenario, Board::breaker_off, 11.9, "more works");
  EXPECT_EQ(breaker_orders(), 1);
  for (const PlannedSection& section : scenario.plan().sections) {
    const bool down = section.from_km >= 10 && section.to_km <= 14.2;
    EXPECT_EQ(section.raised.empty(), down) << "km " << section.from_km;
  }
}

TEST(Boards, AreLandmarksLikeOthersWhereTheRuleIsOff) {
  Scenario scenario = on_boards();
  with(scenario, Board::lower, 8.2);
  EXPECT_EQ(order(scenario.plan(), Action::lower).at_km, 8.2);
  scenario.rule("line-boards").on = false;
  EXPECT_GT(order(scenario.plan(), Action::lower).at_km, 9);
}

}  // namespace

}  // namespace panup::scenario
