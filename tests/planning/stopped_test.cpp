/// A plan for which nobody waits any more is given up, at any step.

#include <gtest/gtest.h>

#include <atomic>

#include "plan/why_not.h"
#include "render/plan_json.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

/// Three locomotives on three sections, with an order up: all that asks whether to go on is passed.
Scenario three_locomotives() {
  Scenario scenario;
  scenario.add(locomotive()).add(locomotive()).add(locomotive()).load(LoadNature::ordinary);
  scenario.vehicle(1).kept_up = {1};
  for (const double speed_kmh : {90, 70}) {
    Section next = scenario.request.route.sections.back();
    next.id += "x";
    next.from_km = next.to_km;
    next.to_km += 5;
    next.line_speed_kmh = speed_kmh;
    scenario.request.route.sections.push_back(next);
  }
  return scenario;
}

TEST(Stopped, whatever_the_plan_is_at_it_is_given_up) {
  Scenario scenario = three_locomotives();
  const std::string whole = plan_to_json(scenario.plan()).dump();
  std::atomic<int> asked = 0;
  int stop_at = 0;
  scenario.request.stopped = [&] { return ++asked == stop_at; };
  const auto plan = make_plan(scenario.request);
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan_to_json(*plan).dump(), whole);
  const int all = asked;
  // Each piece, each configuration on it, each step of each way, the first and one for each
  // failure.
  EXPECT_GT(all, 200);
  for (stop_at = 1; stop_at <= all; stop_at += 1 + all / 50) {
    asked = 0;
    EXPECT_FALSE(make_plan(scenario.request)) << stop_at << " of " << all;
  }
  stop_at = all;
  asked = 0;
  EXPECT_FALSE(make_plan(scenario.request)) << "at the last";
}

TEST(Stopped, so_is_the_question_why_not) {
  Scenario scenario = three_locomotives();
  const Plan plan = scenario.plan();
  scenario.request.stopped = [] { return true; };
  EXPECT_FALSE(why_not(scenario.request, plan, {{1, 1}}, 1));
}

}  // namespace
}  // namespace panup::scenario
