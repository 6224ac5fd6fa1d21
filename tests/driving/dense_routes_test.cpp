/// A driver who obeys the orders to the letter, on random routes with zones close to each other,
/// does nothing that nobody may do. `drive_dense_routes` does the same on as many as one likes.

#include <gtest/gtest.h>

#include "dense_route.h"
#include "driving/drive.h"

namespace panup {

namespace {

#ifdef PANUP_SANITIZED
constexpr std::uint64_t number_of_routes = 100;
#else
constexpr std::uint64_t number_of_routes = 600;
#endif

TEST(AnObedientDriver, DoesNothingWrongOnDenseRoutes) {
  std::uint64_t planned = 0;
  std::uint64_t refused = 0;
  for (std::uint64_t seed = 1; seed <= number_of_routes; ++seed) {
    const scenario::Scenario scenario = dense_route(seed);
    if (!cross_check(scenario.request).empty()) {
      continue;
    }
    ++planned;
    const Plan plan = scenario.plan();
    refused += plan.answer == Answer::none ? 1 : 0;
    for (const DrivenFault& fault : drive(plan, driven_rules(scenario.request.rules))) {
      ADD_FAILURE() << "route " << seed << ", km " << fault.at_km << ": " << fault.what;
    }
  }
  EXPECT_GT(planned, number_of_routes * 9 / 10);
  EXPECT_LT(refused, planned / 2) << "a plan that says no is easy to obey";
}

}  // namespace

}  // namespace panup
