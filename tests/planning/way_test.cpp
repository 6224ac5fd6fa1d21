/// The way along the route: a shortest path by the ladder.

#include "plan/way.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "every_way.h"
#include "plan/moving_change.h"

namespace panup::scenario {
namespace {

LadderCost cost_along(const PlanningCase& planning, const Way& way) {
  const Exhaustive costs{planning};
  LadderCost cost = costs.time_lost(0, costs.speed(0, way.raised.front()),
                                    power_share(planning, 0, way.raised.front()));
  for (std::size_t i = 0; i < way.raised.size(); ++i) {
    cost += piece_cost(planning, i, way.raised[i], planning.judges[0].train().defective);
    if (i + 1 < way.raised.size()) {
      cost += passage_cost(planning, i, way.raised[i], way.raised[i + 1]).value();
    }
  }
  const std::size_t last = way.raised.size() - 1;
  return cost + costs.time_lost(costs.speed(last, way.raised[last]), 0);
}

TEST(Way, IsTheBestOfAllWaysThereAre) {
  int blocked = 0;
  int changed = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    const Scenario scenario = RandomCase(seed).make();
    const PlanningCase planning = prepare(scenario.request);
    const Way way = find_way(planning, planning.judges[0].train().defective);
    const LadderCost best = Exhaustive{planning}.search();
    EXPECT_EQ(way.cost.rungs, best.rungs) << "seed " << seed;
    EXPECT_EQ(cost_along(planning, way).rungs, way.cost.rungs) << "seed " << seed;
    blocked += best[Rung::blocked] > 0 ? 1 : 0;
    changed += best[Rung::moving_changes] + best[Rung::standing_changes] > 0 ? 1 : 0;
  }
  // The cases are worth something only if both kinds are among them.
  EXPECT_GT(blocked, 5);
  EXPECT_GT(changed, 5);
}

/// A locomotive with three heads of different width, and a line of three sections of which each
/// admits some of them. Between them the train stops, or comes to a board, or runs on.
Scenario three_heads(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&random](unsigned below) { return random() % below; };
  std::vector<int> widths_mm{1450, 1600, 1950};
  std::ranges::shuffle(widths_mm, random);
  auto type = std::make_shared<VehicleType>(*locomotive());
  const RoofPantograph model = type->pantographs.front();
  type->pantographs.clear();
  for (std::size_t i = 0; i < widths_mm.size(); ++i) {
    auto of_width = std::make_shared<PantographType>(*model.type);
    of_width->head_width_mm = widths_mm[i];
    RoofPantograph& placed = type->pantographs.emplace_back(model);
    placed.number = static_cast<int>(i) + 1;
    placed.from_cab1_m = 3 + 6 * static_cast<double>(i);
    placed.type = of_width;
    placed.nearer_cab = i < 2 ? Cab::cab1 : Cab::cab2;
  }
  Scenario scenario = Scenario().add(type, pick(2) == 0 ? Cab::cab1 : Cab::cab2);
  scenario.load(pick(2) == 0 ? LoadNature::dangerous : LoadNature::ordinary);
  scenario.cut_at(3);
  scenario.cut_at(6);
  Route& route = scenario.request.route;
  for (Section& section : route.sections) {
    section.permitted_head_widths_mm.emplace();
    for (const int width_mm : {1450, 1600, 1950}) {
      if (pick(3) > 0) {
        section.permitted_head_widths_mm->push_back(width_mm);
      }
    }
  }
  for (const double border_km : {3.0, 6.0}) {
    const auto what = pick(5);
    if (what < 3) {
      route.stops.push_back(
          {.name = "Stop", .at_km = border_km, .reversal = what == 0, .place = {}});
    } else if (what == 3) {
      route.landmarks.push_back(
          {.name = "Board", .at_km = border_km, .change_on_the_move = true, .place = {}});
    }
  }
  return scenario;
}

TEST(Way, IsTheBestAlsoWhereFewHeadsMayStandUpOnBothSidesOfAStop) {
  int changed = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const Scenario scenario = three_heads(seed);
    const PlanningCase planning = prepare(scenario.request);
    const LadderCost best = Exhaustive{planning}.search();
    EXPECT_EQ(find_way(planning, {}).cost.rungs, best.rungs) << "seed " << seed;
    changed += best[Rung::standing_changes] > 0 ? 1 : 0;
  }
  EXPECT_GT(changed, 5);
}

/// A locomotive with a wide head in front and a narrow one behind. The line admits the wide one up
/// to `wide_to_km`, the narrow one from six kilometres before that, where the train stops at the
/// end of what both may use.
Scenario two_heads(double wide_to_km) {
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = narrow;
  Scenario scenario = Scenario().add(type).load(LoadNature::ordinary);
  const Section model = scenario.section();
  scenario.request.route.sections = {model, model, model};
  auto& sections = scenario.request.route.sections;
  sections[1].id = "s2";
  sections[2].id = "s3";
  sections[0].to_km = sections[1].from_km = wide_to_km - 6;
  sections[1].to_km = sections[2].from_km = wide_to_km;
  sections[1].permitted_head_widths_mm = {1600, 1950};
  sections[2].permitted_head_widths_mm = {1600};
  scenario.request.route.stops = {
      {.name = "Stop", .at_km = wide_to_km, .reversal = false, .place = {}}};
  return scenario;
}

RaisedOrBlocked raised_at(const PlanningCase& planning, const Way& way, double km) {
  const auto piece = std::ranges::find_if(
      planning.pieces, [km](const Piece& candidate) { return candidate.to_km > km; });
  return way.raised[static_cast<std::size_t>(piece - planning.pieces.begin())];
}

TEST(Way, WhereNothingMayChangeAtAStopTheShorterStretchIsGivenUp) {
  for (const double wide_to_km : {11.0, 15.0}) {
    Scenario scenario = two_heads(wide_to_km);
    EXPECT_EQ(scenario.plan().answer, Answer::permitted);
    scenario.rule("change-at-stop").on = false;
    const PlanningCase planning = prepare(scenario.request);
    const Way way = find_way(planning, {});
    EXPECT_EQ(way.cost.rungs, Exhaustive{planning}.search().rungs);
    // Until the pantograph itself is under the new wire the train may go on from the stop.
    EXPECT_NEAR(static_cast<double>(way.cost[Rung::blocked]), 5000, 14.5);
    const bool gives_up_first = wide_to_km < 12;
    EXPECT_EQ(raised_at(planning, way, gives_up_first ? 1 : wide_to_km + 1), blocked);
    EXPECT_EQ(raised_at(planning, way, wide_to_km - 1),
              gives_up_first ? PantographSet{1} : PantographSet{0});
  }
}

TEST(Way, AShortFastStretchIsNotOverrated) {
  // One alone may run at 120 km/h, both at 80; over 600 m from a stand the train reaches neither,
  // so that time cannot tell them apart and the pattern decides.
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.stops = {{.name = "Stop", .at_km = 10, .reversal = false, .place = {}}};
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 10.6, .change_on_the_move = true, .place = {}}};
  const Plan plan = scenario.plan();
  for (std::size_t i = 0; i < plan.sections.size(); ++i) {
    EXPECT_EQ(up_on(plan, i), "R1");  // not both, which run at 80 km/h at most
  }
  const PlanningCase planning = prepare(scenario.request);
  ASSERT_EQ(planning.pieces.size(), 3U);
  // From a stand to 60 km/h at the board: v² = u² + 2 a s gives 15.5 m/s at 0.2 m/s² over 600 m.
  EXPECT_NEAR(planning.useful_speed_kmh[1], 3.6 * std::sqrt(2 * 0.2 * 600), 1e-9);
}

TEST(Way, TimeLostByAChangeOfSpeedAsTheClosedFormSays) {
  // Closed form: accelerating from v to w takes (w − v)/a; the same distance at w would have taken
  // (w² − v²)/(2 a w).
  Train train;
  train.acceleration_ms2 = 0.2;
  train.braking_ms2 = 0.5;
  const double v = 60 / 3.6;
  const double w = 160 / 3.6;
  const double accelerating = (w - v) / 0.2 - (w * w - v * v) / (2 * 0.2 * w);
  const double braking = (w - v) / 0.5 - (w * w - v * v) / (2 * 0.5 * w);
  EXPECT_NEAR(static_cast<double>(time_lost_ms(train, 0, 60, 160)), 1000 * accelerating, 1);
  EXPECT_NEAR(static_cast<double>(time_lost_ms(train, 0, 160, 60)), 1000 * braking, 1);
  EXPECT_EQ(time_lost_ms(train, 0, 60, 60), 0);
  // With its length the train holds the lower speed longer: 300 m at v in place of w.
  EXPECT_NEAR(static_cast<double>(time_lost_ms(train, 300, 60, 160)),
              1000 * (accelerating + 300 / v - 300 / w), 1);
  EXPECT_EQ(time_lost_ms(train, 300, 160, 60), time_lost_ms(train, 0, 160, 60));
}

TEST(Way, NoChangeIsMadeWherePracticeAllowsNone) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.from_km = 10;
  second.records = {{.number = 1, .distance_m = 0, .speed_kmh = 120}};
  scenario.request.route.sections.push_back(second);
  // Two up are better on the first half, one alone is all that the second permits; without a place
  // to change, one has to do for both.
  const Plan without = scenario.plan();
  EXPECT_EQ(up_on(without, 0), "R1");
  EXPECT_EQ(up_on(without, 1), "R1");
  scenario.request.route.stops.push_back(
      {.name = "Stop", .at_km = 10, .reversal = false, .place = {}});
  const Plan with = scenario.plan();
  EXPECT_EQ(up_on(with, 0), "F1 R2");
  EXPECT_EQ(up_on(with, 1), "R1");
}

/// Of a locomotive alone.
constexpr PantographSet front{0};
constexpr PantographSet rear{1};

TEST(Way, AChangeOnTheMoveIsLookedForAtEachPlaceByItself) {
  // At 5 km there is room for it; at 9.95 km the train stops 50 m on.
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.stops = {{.name = "Stop", .at_km = 10, .reversal = false, .place = {}}};
  scenario.request.route.landmarks = {
      {.name = "Far", .at_km = 5, .change_on_the_move = true, .place = {}},
      {.name = "Near", .at_km = 9.95, .change_on_the_move = true, .place = {}}};
  for (const bool far_first : {true, false}) {
    const PlanningCase planning = prepare(scenario.request);
    const auto changes_at = [&](double km) {
      const auto piece = std::ranges::find(planning.pieces, km, &Piece::from_km);
      return piece != planning.pieces.end() &&
             moving_change(planning, static_cast<std::size_t>(piece - planning.pieces.begin()), {0},
                           {1});
    };
    EXPECT_EQ(changes_at(far_first ? 5 : 9.95), far_first);
    EXPECT_EQ(changes_at(far_first ? 9.95 : 5), !far_first);
  }
}

TEST(Way, OnTheMoveBothAreUpForAWhileAndThatIsJudged) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.permits(1);
  scenario.request.train.consist.insert(scenario.request.train.consist.begin(),
                                        LoadGroup{.name = "petrol",
                                                  .length_m = 100,
                                                  .nature = LoadNature::ordinary,
                                                  .highest_speed_kmh = {},
                                                  .control_car = true,
                                                  .place = {}});
  scenario.request.route.landmarks.push_back(
      {.name = "Board", .at_km = 10, .change_on_the_move = true, .place = {}});
  const PlanningCase planning = prepare(scenario.request);
  ASSERT_EQ(planning.pieces.size(), 2U);
  // Front and rear alone are each permitted, but not both together, where the line permits one.
  EXPECT_FALSE(passage_cost(planning, 0, front, rear));
  EXPECT_TRUE(passage_cost(planning, 0, front, front));
  scenario.permits(2);
  const PlanningCase two_permitted = prepare(scenario.request);
  EXPECT_TRUE(passage_cost(two_permitted, 0, front, rear));
}

/// One locomotive and a board at km 10 where its pantographs may change on the move, at 60 km/h.
Scenario board_at_km_10() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 10, .change_on_the_move = true, .place = {}}};
  return scenario;
}

std::int64_t time_lost_by(const PlanningCase& planning, PantographSet from, PantographSet to,
                          double at_kmh) {
  const auto lost = [&](double v, double w) {
    return time_lost_ms(planning.request->train, planning.judges[0].train().layout.length_m, v, w);
  };
  return lost(timing_speed_kmh(planning, 0, from), at_kmh) +
         lost(at_kmh, timing_speed_kmh(planning, 1, to));
}

TEST(Way, OnTheMoveTheTrainIsAsSlowAsBothUpAreAllowed) {
  Scenario scenario = board_at_km_10();
  scenario.section().records = {{.number = 1, .distance_m = 0, .speed_kmh = 120},
                                {.number = 2, .distance_m = 5, .speed_kmh = 50}};
  const PlanningCase slow = prepare(scenario.request);
  EXPECT_EQ(passage_cost(slow, 0, front, rear).value()[Rung::time],
            time_lost_by(slow, front, rear, 50));
  scenario.section().records[1].speed_kmh = 90;
  const PlanningCase fast = prepare(scenario.request);
  EXPECT_EQ(passage_cost(fast, 0, front, rear).value()[Rung::time],
            time_lost_by(fast, front, rear, 60));
}

TEST(Way, OnTheMoveBothSidesOfTheBoardCount) {
  for (const std::size_t slow_side : {0U, 1U}) {
    Scenario scenario = board_at_km_10();
    Section second = scenario.section();
    scenario.section().to_km = 10;
    second.id = "s2";
    second.from_km = 10;
    scenario.request.route.sections.push_back(second);
    for (Section& section : scenario.request.route.sections) {
      section.records = {{.number = 1, .distance_m = 0, .speed_kmh = 120},
                         {.number = 2, .distance_m = 5, .speed_kmh = 100}};
    }
    scenario.request.route.sections[slow_side].records[1].speed_kmh = 40;
    const PlanningCase slow = prepare(scenario.request);
    EXPECT_EQ(passage_cost(slow, 0, front, rear).value()[Rung::time],
              time_lost_by(slow, front, rear, 40));
    scenario.request.route.sections[slow_side].records.pop_back();
    const PlanningCase one_permitted = prepare(scenario.request);
    EXPECT_FALSE(passage_cost(one_permitted, 0, front, rear));
  }
}

TEST(Way, OnTheMoveNothingChangesWhereBothUpNeedConsent) {
  Scenario scenario = board_at_km_10();
  scenario.section().records.clear();
  scenario.section().design_type.reset();  // two up need consent; one alone needs none
  const PlanningCase without = prepare(scenario.request);
  EXPECT_FALSE(passage_cost(without, 0, front, rear));
  Consent consent;
  consent.number = 2;
  consent.speed_kmh = 60;
  scenario.request.train.consents = {consent};
  const PlanningCase with = prepare(scenario.request);
  EXPECT_TRUE(passage_cost(with, 0, front, rear));
}

TEST(Way, OnTheMoveOneLocomotiveChangesAfterTheOtherWhereAllTogetherWouldMakeAFacingPair) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 10, .change_on_the_move = true, .place = {}}};
  scenario.permits(4);
  const PlanningCase planning = prepare(scenario.request);
  // R1 R2 for F1 F2: with all four up, R1 and F2 face each other, which neither does alone.
  const PantographSet fronts{0, 2};
  const PantographSet rears{1, 3};
  ASSERT_GT(planning.judge(0).judge(planning.ground(0), fronts | rears, {}).facing_pairs, 0);
  const auto change = moving_change(planning, 1, fronts, rears);
  ASSERT_TRUE(change);
  PantographSet up = fronts;
  std::size_t most = 0;
  for (const ChangeStep& step : change->steps) {
    up |= step.up;
    EXPECT_EQ(planning.judge(0).judge(planning.ground(0), up, {}).facing_pairs, 0);
    most = std::max(most, up.size());
    up -= step.down;
  }
  EXPECT_EQ(up, rears);
  EXPECT_EQ(most, 3U);
  // R2 for F2 alone makes none: the new one goes up, the old one comes down.
  const auto simple = moving_change(planning, 1, fronts, PantographSet{0, 3});
  ASSERT_TRUE(simple);
  EXPECT_EQ(simple->steps.size(), 2U);
}

TEST(Way, OnTheMoveNothingChangesWhereThereIsNoRoomToEndBeforeTheNextStop) {
  Scenario scenario = board_at_km_10();
  EXPECT_TRUE(passage_cost(prepare(scenario.request), 0, front, rear));
  scenario.request.route.stops = {{.name = "Stop", .at_km = 10.05, .reversal = false, .place = {}}};
  EXPECT_FALSE(passage_cost(prepare(scenario.request), 0, front, rear));
}

TEST(Way, LoweredStretchesTooCloseTogetherArePassedInOne) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.lowered = {
      {.name = "First works", .from_km = 8, .to_km = 8.1, .place = {}},
      {.name = "Second works", .from_km = 8.3, .to_km = 8.4, .place = {}}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.sections.size(), 5U) << "the lower speed holds before and behind, too";
  EXPECT_EQ(plan.sections[2].from_km, 8);
  EXPECT_EQ(plan.sections[2].to_km, 8.4);
  EXPECT_TRUE(plan.sections[2].raised.empty());
  EXPECT_NE(plan.notes.front().find("too little room"), std::string::npos);
}

TEST(Way, TheSamePlanWhateverTheNumberOfThreads) {
  Scenario scenario = Scenario()
                          .add(four_pantograph_locomotive())
                          .add(four_pantograph_locomotive())
                          .load(LoadNature::dangerous);
  scenario.request.jobs = 1;
  const Plan one = scenario.plan();
  scenario.request.jobs = 2;
  const Plan two = scenario.plan();
  ASSERT_EQ(one.contingencies.size(), two.contingencies.size());
  for (std::size_t i = 0; i < one.contingencies.size(); ++i) {
    EXPECT_EQ(one.contingencies[i].failed, two.contingencies[i].failed);
    EXPECT_EQ(one.contingencies[i].running_time_s, two.contingencies[i].running_time_s);
    EXPECT_EQ(one.contingencies[i].sections.size(), two.contingencies[i].sections.size());
    EXPECT_EQ(one.contingencies[i].sections[0].raised, two.contingencies[i].sections[0].raised);
  }
}

/// An order of the operator, against what practice would do; derived.
TEST(Order, WhatIsOrderedDownStaysDown) {
  Scenario scenario = Scenario().add(locomotive());
  std::get<Vehicle>(scenario.request.train.consist[0]).kept_down = {2};
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1");
  EXPECT_EQ(plan.answer, Answer::permitted);
}

TEST(Order, WhatIsOrderedUpIsUpThoughPracticeWouldNot) {
  Scenario scenario = Scenario().add(locomotive());
  EXPECT_EQ(up_on(scenario.plan()), "R1");
  std::get<Vehicle>(scenario.request.train.consist[0]).kept_up = {1};
  EXPECT_EQ(up_on(scenario.plan()), "F1");
}

TEST(Order, UpHoldsOnlyWhereItMayBe) {
  Scenario scenario = Scenario().add(locomotive());
  std::get<Vehicle>(scenario.request.train.consist[0]).kept_up = {1};
  scenario.section().permitted_head_widths_mm = {1600};
  EXPECT_EQ(scenario.plan().answer, Answer::none) << "the section admits neither head";
  EXPECT_FALSE(says(scenario.plan().sections[0], "ordered", Strength::forbidden));
}

TEST(Order, OneOrderedUpBringsNoSecondOneUpBesideIt) {
  Scenario scenario = Scenario().add(locomotive()).permits(2);
  scenario.vehicle(1).kept_up = {1};
  EXPECT_EQ(up_on(scenario.plan()), "F1");
  Scenario two = Scenario().add(locomotive()).add(locomotive()).permits(4);
  two.vehicle(1).kept_up = {2};
  EXPECT_EQ(up_on(two.plan()), "R1 R2");
}

TEST(Order, WhereContactPointsOrIceAskForTwoASecondOneGoesUpBesideIt) {
  Scenario single = Scenario().add(locomotive({.strips = 1})).permits(2);
  single.vehicle(1).kept_up = {1};
  EXPECT_EQ(up_on(single.plan()), "F1 R1");
  Scenario iced = Scenario().add(locomotive()).permits(2).ice();
  iced.vehicle(1).kept_up = {1};
  EXPECT_EQ(up_on(iced.plan()), "F1 R1");
}

/// The forbidding findings of the first section, one a line.
std::string forbidden_on(const Plan& plan) {
  std::string all;
  for (const Finding& finding : plan.sections[0].findings) {
    if (finding.strength == Strength::forbidden) {
      all += finding.rule + ": " + finding.text + "\n";
    }
  }
  return all;
}

TEST(Order, UpThatCannotBeFollowedNamesWhatForbidsItAndWhatWouldBePermittedWithoutIt) {
  Scenario scenario = Scenario().add(locomotive()).permits(1);
  scenario.vehicle(1).kept_up = {1, 2};
  EXPECT_EQ(scenario.plan().answer, Answer::none);
  EXPECT_EQ(forbidden_on(scenario.plan()),
            "line-record: 2 pantographs raised; the section permits at most 1.\n"
            "ordered: 1.1 and 1.2: ordered up by the train file, but not permitted here. Without "
            "the order: 1.2 up, 120 km/h.\n");
}

TEST(Order, UpThatLeavesNothingForAnotherLocomotiveNamesWhatForbidsOneMore) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).permits(2);
  scenario.vehicle(1).kept_up = {1, 2};
  scenario.rule("put-dead").on = false;
  EXPECT_EQ(scenario.plan().answer, Answer::none);
  EXPECT_NE(forbidden_on(scenario.plan()).find("3 pantographs raised; the section permits at most"),
            std::string::npos)
      << forbidden_on(scenario.plan());
  EXPECT_NE(forbidden_on(scenario.plan()).find("Without the order: 1.1 and 2.2 up"),
            std::string::npos)
      << forbidden_on(scenario.plan());
}

TEST(Order, UpIsNotBlamedWhereNothingIsPermittedWithoutItEither) {
  Scenario scenario = Scenario().add(locomotive()).permits(1);
  scenario.vehicle(1).kept_up = {1};
  scenario.rule("put-dead").on = false;
  scenario.add(locomotive());
  EXPECT_EQ(scenario.plan().answer, Answer::none);
  EXPECT_EQ(forbidden_on(scenario.plan()).find("ordered: "), std::string::npos)
      << "without the order there is nothing either: " << forbidden_on(scenario.plan());
  EXPECT_NE(forbidden_on(scenario.plan()).find("locomotive 2 has no pantograph up"),
            std::string::npos);
}

TEST(Order, AFailedOneIsNotHeldUp) {
  Scenario scenario = Scenario().add(locomotive());
  std::get<Vehicle>(scenario.request.train.consist[0]).kept_up = {1};
  const Plan plan = scenario.plan();
  const auto failed =
      std::ranges::find(plan.contingencies, PantographRef{1, 1}, &Contingency::failed);
  ASSERT_NE(failed, plan.contingencies.end());
  EXPECT_EQ(failed->answer, Answer::permitted);
  EXPECT_EQ(failed->sections[0].raised, (std::vector{PantographRef{1, 2}}));
}

TEST(Order, AgainstWhatIsForbiddenLeavesNothingAndSaysSo) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  auto& first = std::get<Vehicle>(scenario.request.train.consist[0]);
  auto& second = std::get<Vehicle>(scenario.request.train.consist[1]);
  first.kept_down = {1, 2};
  second.kept_down = {1, 2};
  EXPECT_EQ(scenario.plan().answer, Answer::none);
}

}  // namespace
}  // namespace panup::scenario
