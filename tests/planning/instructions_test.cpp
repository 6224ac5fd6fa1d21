/// The driver's instructions: stated for the front of the train, right for the pantographs behind
/// it.

#include "plan/instructions.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "plan/landmarks.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

std::vector<Instruction> of(const Plan& plan, Action action) {
  std::vector<Instruction> found;
  std::ranges::copy_if(plan.instructions, std::back_inserter(found),
                       [action](const Instruction& one) { return one.action == action; });
  return found;
}

/// 20 km with works from km 10 to 10.2 that are passed with pantographs down, at 60 km/h.
Scenario works(LoadNature nature = LoadNature::ordinary) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(nature);
  scenario.request.route.lowered = {{.name = "Works", .from_km = 10, .to_km = 10.2, .place = {}}};
  return scenario;
}

// Common practice, no published source: the last point to order lowering is the zone's start plus
// the offset of the first raised pantograph less speed × (reaction + lowering time).
TEST(Instructions, LoweringIsOrderedInTimeForTheFirstRaisedPantograph) {
  const Plan plan = works().plan();
  ASSERT_EQ(up_on(plan, 0), "F1 R2");
  const auto lower = of(plan, Action::lower);
  ASSERT_EQ(lower.size(), 1U);
  const double v = 60 / 3.6;
  const double last_point_km = 10 + 0.0045 - v * (4 + 4) / 1000;  // 4 s reaction, 4 s lowering
  EXPECT_LE(lower[0].at_km, last_point_km);
  EXPECT_GT(lower[0].at_km, last_point_km - 0.0101);  // rounded by 10 m at most
  EXPECT_EQ(lower[0].vehicle, 0);                     // two vehicles
  EXPECT_EQ(lower[0].pantographs, std::vector<PantographRef>({{1, 1}, {2, 2}}));
}

TEST(Instructions, TheBreakerOpensBeforeAPantographLeavesTheWireAndClosesAfterItIsBack) {
  const Plan plan = works().plan();
  const auto off = of(plan, Action::breaker_off);
  const auto lower = of(plan, Action::lower);
  const auto raise = of(plan, Action::raise);
  const auto on = of(plan, Action::breaker_on);
  ASSERT_EQ(off.size(), 1U);
  ASSERT_EQ(raise.size(), 2U);  // at departure, and behind the works
  ASSERT_EQ(on.size(), 2U);
  const double v_km_s = 60 / 3.6 / 1000;
  EXPECT_LE(off[0].at_km, lower[0].at_km - v_km_s * (4 + 0.5) + 0.0101);
  EXPECT_LT(off[0].at_km, lower[0].at_km);
  EXPECT_GE(on[1].at_km, raise[1].at_km + v_km_s * (4 + 6));
}

TEST(Instructions, RaisingIsOrderedWhenTheRearmostPantographHasPassedTheEnd) {
  const Plan plan = works().plan();
  const auto raise = of(plan, Action::raise);
  const double rearmost_km = 0.019 + 0.0145;
  EXPECT_GE(raise[1].at_km, 10.2 + rearmost_km);
  EXPECT_LT(raise[1].at_km, 10.2 + rearmost_km + 0.0101);
}

TEST(Instructions, SpeedIsHeldFromBreakerOffToBreakerOn) {
  const Plan plan = works().plan();
  const auto speed = of(plan, Action::speed);
  ASSERT_EQ(speed.size(), 3U);
  EXPECT_EQ(speed[0].at_km, 0);
  EXPECT_EQ(speed[1].speed_kmh, 60);
  EXPECT_EQ(speed[1].at_km, of(plan, Action::breaker_off)[0].at_km);
  EXPECT_EQ(speed[2].at_km, of(plan, Action::breaker_on)[1].at_km);
}

TEST(Instructions, ALandmarkOnTheSafeSideIsUsed) {
  Scenario scenario = works();
  scenario.request.route.landmarks = {
      {.name = "Breaker board", .at_km = 9.6, .change_on_the_move = false, .place = {}},
      {.name = "Lowering board", .at_km = 9.8, .change_on_the_move = false, .place = {}},
      {.name = "Works board", .at_km = 10, .change_on_the_move = false, .place = {}},
      {.name = "Raising board", .at_km = 10.5, .change_on_the_move = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(of(plan, Action::breaker_off)[0].landmark, "at Breaker board");
  EXPECT_EQ(of(plan, Action::lower)[0].at_km, 9.8);
  EXPECT_EQ(of(plan, Action::raise)[1].at_km, 10.5);
  EXPECT_EQ(of(plan, Action::raise)[1].landmark, "at Raising board");
}

// A board that lowering is tied to lies earlier than lowering needs; the breaker's time counts from
// there, so that it is never opened where the pantographs already go down.
TEST(Instructions, TheBreakerHasItsTimeAlsoBeforeATiedOrderToLower) {
  Scenario scenario = works();
  scenario.request.route.landmarks = {
      {.name = "Lowering board", .at_km = 9.85, .change_on_the_move = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(of(plan, Action::lower)[0].at_km, 9.85);
  const double v_km_s = 60 / 3.6 / 1000;
  EXPECT_LE(of(plan, Action::breaker_off)[0].at_km, 9.85 - v_km_s * (4 + 0.5));
}

TEST(Instructions, TheTrainSlowsDownBeforeTheBreakerOpensAtTheSamePlace) {
  const Plan plan = works().plan();
  const auto place_of = [&](Action action, double at_km) {
    return std::ranges::find_if(plan.instructions, [&](const Instruction& one) {
      return one.action == action && one.at_km == at_km;
    });
  };
  const double off_km = of(plan, Action::breaker_off)[0].at_km;
  const auto slower = place_of(Action::speed, off_km);
  ASSERT_NE(slower, plan.instructions.end());
  EXPECT_LT(slower, place_of(Action::breaker_off, off_km));
}

TEST(Instructions, APlaceIsNamedFromALandmarkThatIsBehindWhereThereIsOne) {
  const NamedPlaces places{.all = {{"Board A", 9.7}, {"Board B", 10.0}}, .within_m = 500};
  EXPECT_EQ(landmark_words(places, 9.9), "200 m past Board A");
  EXPECT_EQ(landmark_words(places, 9.998), "at Board B");
  EXPECT_EQ(landmark_words(places, 9.5), "200 m before Board A");
  EXPECT_EQ(landmark_words(places, 11), "");
}

TEST(Instructions, AHigherSpeedIsOrderedWhenTheWholeTrainHasPassed) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  Section second = scenario.section();
  scenario.section().to_km = 5;
  scenario.section().line_speed_kmh = 60;
  second.id = "s2";
  second.from_km = 5;
  scenario.request.route.sections.push_back(second);
  const auto speed = of(scenario.plan(), Action::speed);
  ASSERT_EQ(speed.size(), 2U);
  EXPECT_EQ(speed[1].speed_kmh, 120);
  EXPECT_NEAR(speed[1].at_km, 5.319, 1e-9);
}

TEST(Instructions, ALowerSpeedIsOrderedForTheFrontOfTheTrain) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  Section second = scenario.section();
  scenario.section().to_km = 5;
  second.id = "s2";
  second.from_km = 5;
  second.line_speed_kmh = 60;
  scenario.request.route.sections.push_back(second);
  const auto speed = of(scenario.plan(), Action::speed);
  ASSERT_EQ(speed.size(), 2U);
  EXPECT_EQ(speed[1].at_km, 5);
}

TEST(Instructions, ThroughASeparationSectionWithPantographsUpTheBreakerIsOff) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  scenario.request.route.separations = {{.name = "Phase separation",
                                         .kind = SeparationKind::phase,
                                         .from_km = 10,
                                         .length_m = 120,
                                         .pantograph_lowered = false,
                                         .breaker_off = true,
                                         .length_meaning = {},
                                         .place = {}}};
  const Plan plan = scenario.plan();
  const auto off = of(plan, Action::breaker_off);
  const auto on = of(plan, Action::breaker_on);
  ASSERT_EQ(off.size(), 1U);
  ASSERT_EQ(on.size(), 2U);
  const double v_km_s = 120 / 3.6 / 1000;
  EXPECT_LE(off[0].at_km, 10 + 0.0145 - v_km_s * 4.5);
  EXPECT_GE(on[1].at_km, 10.12 + 0.0145);
  EXPECT_TRUE(of(plan, Action::lower).empty());
}

TEST(Instructions, AtAReversalTheOtherPantographGoesUpAtAStand) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.route.stops = {{.name = "Terminus", .at_km = 10, .reversal = true, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(of(plan, Action::reverse).size(), 1U);
  const auto lower = of(plan, Action::lower);
  const auto raise = of(plan, Action::raise);
  ASSERT_EQ(lower.size(), 1U);
  EXPECT_EQ(lower[0].pantographs, std::vector<PantographRef>({{1, 2}}));
  EXPECT_EQ(raise[1].pantographs, std::vector<PantographRef>({{1, 1}}));
  EXPECT_EQ(raise[1].at_km, 10);
  EXPECT_EQ(raise[1].landmark, "at Terminus");
  EXPECT_EQ(raise[1].vehicle, 1);
}

TEST(Instructions, OnTheMoveTheNewOnesGoUpBeforeTheOldOnesComeDown) {
  // Two may be up on the first half, one on the second: the second locomotive goes dead there.
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.from_km = 12;
  Section between = scenario.section();
  between.id = "s1b";
  between.from_km = 10;
  between.to_km = 12;
  second.records = {{.number = 1, .distance_m = 0, .speed_kmh = 120}};
  scenario.request.route.sections.push_back(between);
  scenario.request.route.sections.push_back(second);
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 11, .change_on_the_move = true, .place = {}}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(up_on(plan, 0), "F1 R2");
  const auto raise = of(plan, Action::raise);
  const auto lower = of(plan, Action::lower);
  ASSERT_EQ(lower.size(), 1U);
  EXPECT_GE(lower[0].at_km, 11);
  if (raise.size() == 2) {
    EXPECT_EQ(raise[1].at_km, 11);
    EXPECT_GT(lower[0].at_km, raise[1].at_km);
  }
  EXPECT_EQ(of(plan, Action::tow).size(), 1U);
}

TEST(Instructions, NoPlanWhereTheTrainWouldHaveToOpenAndLowerAsSoonAsItStarts) {
  Scenario scenario = works();
  scenario.request.route.stops = {{.name = "Halt", .at_km = 9.99, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const auto blocked = std::ranges::find(plan.sections, Answer::none, &PlannedSection::answer);
  ASSERT_NE(blocked, plan.sections.end());
  EXPECT_TRUE(std::ranges::any_of(blocked->findings, [](const Finding& finding) {
    return finding.text.find("could not start") != std::string::npos;
  }));
}

/// 319 m long, departing from km 5.05: most of it stands on s1, which ends at km 5.
Scenario departing_behind_a_border() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  scenario.cut_at(5);
  scenario.request.route.departs_km = 5.05;
  return scenario;
}

TEST(Instructions, AtDepartureIceUnderTheRestOfTheTrainHoldsItBackAndIceAheadDoesNot) {
  Scenario scenario = departing_behind_a_border();
  scenario.request.conditions.ice = {{.from_km = 12, .to_km = 15}};
  // Both are up for the ice ahead, 10 m apart: the table has 80 km/h.
  EXPECT_EQ(of(scenario.plan(), Action::speed).at(0).speed_kmh, 80);
  scenario.request.conditions.ice = {{.from_km = 3, .to_km = 5}};
  const auto speed = of(scenario.plan(), Action::speed);
  ASSERT_GE(speed.size(), 2U);
  EXPECT_EQ(speed[0].speed_kmh, 60);
  EXPECT_EQ(speed[1].speed_kmh, 120);
  EXPECT_NEAR(speed[1].at_km, 5.319, 0.0101);
}

// Between two works there is no room to raise: the speed of the slower of the two holds while the
// pantographs are down.
TEST(Instructions, ThroughSeveralWorksInOneTheLowestSpeedOfThemHolds) {
  Scenario scenario = works();
  scenario.cut_at(10.3).line_speed_kmh = 30;
  scenario.request.route.lowered.push_back(
      {.name = "More works", .from_km = 10.35, .to_km = 10.5, .place = {}});
  const Plan plan = scenario.plan();
  ASSERT_EQ(of(plan, Action::lower).size(), 1U);
  const double off_km = of(plan, Action::breaker_off).at(0).at_km;
  const auto speed = of(plan, Action::speed);
  const auto held = std::ranges::find(speed, off_km, &Instruction::at_km);
  ASSERT_NE(held, speed.end());
  EXPECT_EQ(held->speed_kmh, 30);
}

TEST(Instructions, StandByChainageAndSayWhatToDoIfNotPossible) {
  const Plan plan = works(LoadNature::dangerous).plan();
  EXPECT_TRUE(std::ranges::is_sorted(plan.instructions, {}, &Instruction::at_km));
  for (const Instruction& instruction : plan.instructions) {
    EXPECT_FALSE(instruction.text.empty());
    if (instruction.action != Action::speed) {
      EXPECT_FALSE(instruction.if_not_possible.empty()) << instruction.text;
    }
  }
}

TEST(Instructions, WhereNothingIsPermittedTheTrainStopsBeforeIt) {
  Scenario scenario = Scenario().add(locomotive());
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.from_km = 10;
  second.permitted_head_widths_mm = {1450};
  scenario.request.route.sections.push_back(second);
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const auto speed = of(plan, Action::speed);
  ASSERT_EQ(speed.size(), 2U);
  EXPECT_EQ(speed[1].at_km, 10);
  EXPECT_EQ(speed[1].speed_kmh, 0);
}

TEST(Instructions, IntoAStretchWithPantographsDownThatLeadsToNowhereTheTrainDoesNotGo) {
  Scenario scenario = works();
  Section second = scenario.section();
  scenario.section().to_km = 10.1;
  second.id = "s2";
  second.from_km = 10.1;
  second.permitted_head_widths_mm = {1450};
  scenario.request.route.sections.push_back(second);
  scenario.request.route.lowered.push_back(
      {.name = "Later works", .from_km = 15, .to_km = 15.2, .place = {}});
  const Plan plan = scenario.plan();
  ASSERT_FALSE(plan.instructions.empty());
  EXPECT_EQ(plan.instructions.back().at_km, 10);
  EXPECT_EQ(plan.instructions.back().speed_kmh, 0);
  EXPECT_TRUE(of(plan, Action::lower).empty());
  EXPECT_EQ(of(plan, Action::speed).size(), 2U);  // at departure, and the stop
}

}  // namespace
}  // namespace panup::scenario
