/// Where orders stand along a way, held against what a train of some length sees at every place.

#include "plan/orders.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <tuple>

#include "scenario.h"

namespace panup::scenario {
namespace {

/// The speed ordered last when the front of the train is at `km`.
double ordered_at(const Orders& orders, double km) {
  double speed_kmh = 0;
  for (const Order& order : orders.all) {
    if (order.action == Action::speed && order.at_km <= km) {
      speed_kmh = order.speed_kmh;
    }
  }
  return speed_kmh;
}

/// The lowest line speed under any part of the train, with its front at `km`. After a reversal the
/// new front stands at the place of the stop; the train is still on the sections that it came on,
/// and its front runs over them once more, until all of it has left.
double lowest_under_train(const Route& route, double train_km, double km) {
  double rear_km = km - train_km;
  for (const Stop& stop : route.stops) {
    if (stop.reversal && stop.at_km <= km) {
      rear_km = km < stop.at_km + train_km ? stop.at_km - train_km : std::max(rear_km, stop.at_km);
    }
  }
  double lowest = endless;
  for (const Section& section : route.sections) {
    if (section.from_km <= km && section.to_km > rear_km) {
      lowest = std::min(lowest, section.line_speed_kmh);
    }
  }
  return lowest;
}

Scenario many_speeds(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&random](int below) {
    return static_cast<int>(random() % static_cast<unsigned>(below));
  };
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 100 + 50 * pick(10));
  const Section model = scenario.permits(1).section();
  Route& route = scenario.request.route;
  route.sections.clear();
  double km = 0;
  for (int i = 0; i < 8; ++i) {
    Section section = model;
    section.id = "s" + std::to_string(i);
    section.from_km = km;
    km += 0.1 + pick(10) / 10.0;
    section.to_km = km;
    section.line_speed_kmh = 40 + 20 * pick(5);
    route.sections.push_back(section);
  }
  route.stops = {{.name = "Stop",
                  .at_km = route.sections[4].from_km + 0.05,
                  .reversal = pick(2) == 0,
                  .place = {}}};
  return scenario;
}

TEST(SpeedOrders, AreTheLowestUnderAnyPartOfTheTrainAlsoAfterAReversal) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Scenario scenario = many_speeds(seed);
    scenario.rule("driver-times").numbers.erase("least_gain_kmh");
    const PlanningCase planning = prepare(scenario.request);
    const Orders orders = place_orders(planning, find_way(planning, {}), {}, {});
    const Route& route = scenario.request.route;
    const double train_km = length_m(scenario.request.train) / 1000;
    for (double km = 0.0013; km < route.sections.back().to_km; km += 0.01) {
      ASSERT_EQ(ordered_at(orders, km), lowest_under_train(route, train_km, km))
          << "seed " << seed << ", km " << km;
    }
  }
}

/// 60, 120 and 60 km/h; the middle so long. From 60 km/h the locomotive and its 300 m, with
/// 0.3 m/s2 up and 0.5 m/s2 down, gains 10 km/h within (19.4² - 16.7²) / 2 (1/0.3 + 1/0.5) = 267 m
/// beyond the reaction's 67 m; the rest of the train takes 319 m more.
std::vector<double> speeds_ordered_over(double middle_km) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.request.train.acceleration_ms2 = 0.3;
  scenario.request.train.braking_ms2 = 0.5;
  Route& route = scenario.request.route;
  Section section = route.sections.front();
  route.sections.clear();
  double km = 0;
  for (const auto& [length_km, speed_kmh] : {std::pair(5.0, 60.0), {middle_km, 120.0}, {5, 60}}) {
    section.id = "s" + std::to_string(route.sections.size());
    section.from_km = km;
    section.to_km = km += length_km;
    section.line_speed_kmh = speed_kmh;
    route.sections.push_back(section);
  }
  std::vector<double> speeds;
  for (const Instruction& order : scenario.plan().instructions) {
    if (order.action == Action::speed) {
      speeds.push_back(order.speed_kmh);
    }
  }
  return speeds;
}

TEST(SpeedOrders, ReleaseNoHigherSpeedThatTheTrainCannotMakeUseOf) {
  EXPECT_EQ(speeds_ordered_over(0.319 + 0.067 + 0.26), (std::vector<double>{60}));
  EXPECT_EQ(speeds_ordered_over(0.319 + 0.067 + 0.28), (std::vector<double>{60, 120, 60}));
}

TEST(SpeedOrders, WhereAHigherSpeedIsNotReleasedTheSectionSaysSo) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 20);
  Route& route = scenario.request.route;
  Section section = route.sections.front();
  route.sections.clear();
  for (const auto& [from_km, to_km, speed_kmh] :
       {std::tuple(0.0, 5.0, 60.0), {5.0, 5.1, 120.0}, {5.1, 10.0, 80.0}}) {
    section.id = "s" + std::to_string(route.sections.size());
    section.from_km = from_km;
    section.to_km = to_km;
    section.line_speed_kmh = speed_kmh;
    route.sections.push_back(section);
  }
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.sections.size(), 4U);
  EXPECT_EQ(plan.sections[1].speed_kmh, 60);
  EXPECT_EQ(plan.sections[1].speed_reason,
            "Line speed 60 km/h, until the whole train is past km 5.000");
  EXPECT_EQ(plan.sections[2].speed_kmh, 80) << "of the two the higher, as soon as it may be";
  EXPECT_EQ(plan.sections[2].permitted_speed_kmh, 120);
  EXPECT_EQ(plan.sections[2].speed_reason, "120 km/h is permitted here, but only for 61 m");
  EXPECT_EQ(plan.sections[2].speed_rule, "driver-times");
  EXPECT_EQ(plan.sections[3].speed_kmh, 80);
}

TEST(Orders, OnTheMoveTheTrainHoldsTheSpeedOfBothUpFromTheFirstUpToTheLastDown) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 10, .change_on_the_move = true, .place = {}}};
  scenario.section().records = {{.number = 1, .distance_m = 0, .speed_kmh = 120},
                                {.number = 2, .distance_m = 5, .speed_kmh = 50}};
  const PlanningCase planning = prepare(scenario.request);
  ASSERT_EQ(planning.pieces.size(), 2U);
  Way way;
  way.raised = {PantographSet{0}, PantographSet{1}};
  const Orders orders = place_orders(planning, way, {}, {});
  std::vector<Order> behind;
  std::ranges::copy_if(orders.all, std::back_inserter(behind),
                       [](const Order& order) { return order.at_km >= 10; });
  ASSERT_EQ(behind.size(), 6U);
  EXPECT_EQ(behind[0].action, Action::speed);
  EXPECT_EQ(behind[0].speed_kmh, 50);
  EXPECT_EQ(behind[1].action, Action::raise);
  EXPECT_EQ(behind[1].pantographs, PantographSet{1});
  EXPECT_EQ(behind[2].action, Action::breaker_off);
  EXPECT_EQ(behind[3].action, Action::lower);
  EXPECT_EQ(behind[3].pantographs, PantographSet{0});
  EXPECT_EQ(behind[4].action, Action::breaker_on);
  EXPECT_EQ(behind[5].action, Action::speed);
  EXPECT_EQ(behind[5].speed_kmh, 120);
  EXPECT_EQ(behind[5].at_km, behind[4].at_km);
  // 50 km/h are 13.9 m/s: 4 s to react and 6 s to raise, 0.5 s for the breaker, 4 s to react and
  // 4 s to lower.
  EXPECT_GE(behind[2].at_km - behind[1].at_km, 13.8 * 10 / 1000);
  EXPECT_GE(behind[3].at_km - behind[2].at_km, 13.8 * 0.5 / 1000);
  EXPECT_GE(behind[4].at_km - behind[3].at_km, 13.8 * 8 / 1000);
}

/// The rule that asks for what is held of the line over the rest of the train, where the front is.
std::string rule_of_line_speed(const Scenario& scenario, const std::string& because) {
  const PlanningCase planning = prepare(scenario.request);
  const std::vector<SpeedAlong> speeds =
      place_orders(planning, find_way(planning, {}), {}, {}).speeds;
  const auto held = std::ranges::find(speeds, because, &SpeedAlong::because);
  return held == speeds.end() ? "nothing is held" : held->rule;
}

TEST(SpeedOrders, NameTheLineWhereItsSpeedHoldsOverTheRestOfTheTrain) {
  Scenario turns = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  turns.section().line_speed_kmh = 40;
  turns.cut_at(10).line_speed_kmh = 120;
  Scenario lowered = turns;
  turns.request.route.stops = {{.name = "Turn", .at_km = 10.05, .reversal = true, .place = {}}};
  EXPECT_EQ(rule_of_line_speed(turns, "line speed 40 km/h under the rest of the train"),
            "line-speed");
  lowered.request.route.lowered = {{.name = "Works", .from_km = 9, .to_km = 9.99, .place = {}}};
  lowered.section().to_km = lowered.request.route.sections[1].from_km = 9.99;
  EXPECT_EQ(rule_of_line_speed(lowered, "line speed 40 km/h"), "line-speed");
}

TEST(SpeedOrders, AreOneForEachStretch) {
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const Scenario scenario = many_speeds(seed);
    const PlanningCase planning = prepare(scenario.request);
    const std::vector<SpeedAlong> speeds =
        place_orders(planning, find_way(planning, {}), {}, {}).speeds;
    for (std::size_t i = 1; i < speeds.size(); ++i) {
      const auto told = [](const SpeedAlong& one) {
        return std::tuple(one.speed_kmh, one.piece, one.because);
      };
      EXPECT_FALSE(speeds[i - 1].to_km == speeds[i].from_km &&
                   told(speeds[i - 1]) == told(speeds[i]))
          << "seed " << seed << ", km " << speeds[i].from_km;
    }
  }
}

TEST(Orders, TheBreakerOpensNoSoonerThanTheSpeedThatIsHeldAsksFor) {
  // 50 km/h are held, by the record of the line, where the line permits 120.
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.section().records = {{.number = 1, .distance_m = 0, .speed_kmh = 50}};
  SeparationSection separation;
  separation.name = "Separation";
  separation.from_km = 10;
  separation.length_m = 40;
  separation.breaker_off = true;
  scenario.request.route.separations = {separation};
  const PlanningCase planning = prepare(scenario.request);
  const Orders orders = place_orders(planning, find_way(planning, {}), {}, {});
  const auto off = std::ranges::find(orders.all, Action::breaker_off, &Order::action);
  ASSERT_NE(off, orders.all.end());
  // The rear pantograph is up, 14.5 m behind the front.
  const double latest_km =
      10.0145 - (planning.times.reaction_s + planning.times.breaker_s) * 50 / 3600;
  EXPECT_LE(off->at_km, latest_km);
  EXPECT_GT(off->at_km, latest_km - 0.01) << "orders are rounded to 10 m";
}

}  // namespace
}  // namespace panup::scenario
