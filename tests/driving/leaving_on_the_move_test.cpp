/// A banking locomotive that drops back from a train that does not stop, on random routes: where
/// the two trains are one drive, a driver who obeys does nothing wrong on it, with what goes on and
/// with what leaves; and nothing but the speed is ordered while it drops back.

#include "driving/leaving_on_the_move.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "dense_route.h"
#include "sanitized.h"

namespace panup {

namespace {

using scenario::Scenario;

constexpr std::uint64_t number_of_runs = sanitized ? 20 : 400;

/// A train with a load at its rear on a route that permits one pantograph more everywhere; and the
/// same with a locomotive that pushes.
struct BankedTrain {
  Scenario alone;
  Scenario banked;
};

std::optional<BankedTrain> banked_train(std::uint64_t seed) {
  Scenario alone = dense_route(seed);
  if (!std::holds_alternative<LoadGroup>(alone.request.train.consist.back())) {
    return std::nullopt;
  }
  Route& route = alone.request.route;
  std::erase_if(route.stops, [](const Stop& stop) { return stop.reversal; });
  for (Section& section : route.sections) {
    section.records.push_back({.number = 4, .distance_m = 5, .speed_kmh = 60});
  }
  alone.rule("coasting").on = false;  // masses are not stated
  Scenario banked = alone;
  banked.add(scenario::locomotive());
  if (!cross_check(alone.request).empty() || !cross_check(banked.request).empty()) {
    return std::nullopt;
  }
  return BankedTrain{std::move(alone), std::move(banked)};
}

/// What is up behind all orders before a place.
std::set<PantographRef> up_before(const std::vector<Instruction>& orders, double km) {
  std::set<PantographRef> up;
  for (const Instruction& order : orders) {
    for (const PantographRef ref : order.pantographs) {
      if (order.at_km < km && order.action == Action::raise) {
        up.insert(ref);
      } else if (order.at_km < km && order.action == Action::lower) {
        up.erase(ref);
      }
    }
  }
  return up;
}

double speed_before(const std::vector<Instruction>& orders, double km) {
  double speed_kmh = 0;
  for (const Instruction& order : orders) {
    speed_kmh = order.at_km < km && order.action == Action::speed ? order.speed_kmh : speed_kmh;
  }
  return speed_kmh;
}

void expect_one_drive(const Plan& before, const Plan& after, const LeftOnTheMove& left, double km,
                      const DrivenRules& rules) {
  // What stays up is what both trains have up, each by its own orders.
  const std::set<PantographRef> with = up_before(before.instructions, km);
  for (const PantographRef ref : up_before(after.instructions, km)) {
    EXPECT_TRUE(with.contains(ref)) << to_string(ref);
  }
  EXPECT_EQ(std::set<PantographRef>(left.up.begin(), left.up.end()),
            up_before(after.instructions, km));
  EXPECT_FALSE(left.closed.empty());
  // Nobody does anything but run, and no faster than before, until the length of the train has run.
  const double length_km = length_m(before.train) / 1000;
  EXPECT_GE(left.held_to_km, km + length_km);
  for (const Instruction& order : left.after) {
    EXPECT_GE(order.at_km, km - 1e-6);
    if (order.at_km < km + length_km) {
      EXPECT_EQ(order.action, Action::speed) << order.text;
      EXPECT_LE(order.speed_kmh, speed_before(before.instructions, km)) << order.text;
    }
  }
  EXPECT_EQ(left.after.front().action, Action::speed);
  // The train that goes on, driven from its first stand over the place to the end: it has done what
  // the first orders say of its own vehicles.
  std::vector<Instruction> whole;
  for (Instruction order : left.before) {
    std::erase_if(order.pantographs, [&](PantographRef ref) {
      return vehicle_numbered(after.train, ref.vehicle) == nullptr;
    });
    std::erase_if(order.vehicles,
                  [&](int number) { return vehicle_numbered(after.train, number) == nullptr; });
    const bool of_none = order.pantographs.empty() && order.vehicles.empty() &&
                         order.action != Action::speed && order.action != Action::stop_short;
    if (!of_none) {
      whole.push_back(std::move(order));
    }
  }
  whole.insert(whole.end(), left.after.begin(), left.after.end());
  for (const DrivenFault& fault :
       drive({.train = after.train, .route = after.route, .orders = whole}, rules)) {
    ADD_FAILURE() << "km " << fault.at_km << ": " << fault.what;
  }
  // With what leaves, as far as the place.
  for (const DrivenFault& fault : drive(before, rules)) {
    EXPECT_GE(fault.at_km, km) << fault.what;
  }
}

TEST(ABankingLocomotiveThatDropsBack, LeavesADriveWithoutFault) {
  int asked = 0;
  int one_drive = 0;
  for (std::uint64_t seed = 1; seed <= number_of_runs; ++seed) {
    const auto train = banked_train(seed);
    if (!train) {
      continue;
    }
    const Plan before = train->banked.plan();
    const Plan after = train->alone.plan();
    const DrivenRules rules = driven_rules(train->alone.request.rules);
    std::mt19937_64 bits(seed * 31);
    const double to_km = after.route.sections.back().to_km;
    for (int place = 0; place < 4; ++place) {
      const double km = std::round(500 + (to_km - 1) * static_cast<double>(bits() % 1001)) / 1000;
      ++asked;
      const auto left = left_on_the_move({.before = before, .after = after, .at_km = km}, rules);
      if (const auto* const joined = std::get_if<LeftOnTheMove>(&left)) {
        SCOPED_TRACE(testing::Message() << "run " << seed << ", km " << km);
        ++one_drive;
        expect_one_drive(before, after, *joined, km, rules);
      } else {
        EXPECT_FALSE(std::get<std::string>(left).empty());
      }
    }
  }
  EXPECT_GT(one_drive, asked / 5) << "of " << asked;
}

}  // namespace

}  // namespace panup
