/// A driver who obeys the orders to the letter, on random routes with zones close to each other,
/// does nothing that nobody may do.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>
#include <random>

#include "driving/drive.h"
#include "plan/pieces.h"
#include "scenario.h"

namespace panup {

namespace {

using scenario::Scenario;

constexpr int number_of_routes = 300;

/// The same on every machine: the distributions of the standard library are not.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}
  int upto(int most) { return static_cast<int>(bits_() % static_cast<std::uint64_t>(most + 1)); }
  bool one_in(int number) { return upto(number - 1) == 0; }
  /// In steps of 1/1000 of the range.
  double between(double least, double greatest) {
    return least + (greatest - least) * upto(1000) / 1000;
  }

 private:
  std::mt19937_64 bits_;
};

void add_train(Dice& dice, Scenario& scenario) {
  const auto cab = [&] { return dice.one_in(2) ? Cab::cab1 : Cab::cab2; };
  if (dice.one_in(4)) {
    for (int units = 1 + dice.upto(1); units > 0; --units) {
      scenario.add(scenario::electric_unit(), cab());
    }
    return;
  }
  if (dice.one_in(4)) {
    scenario.add(scenario::four_pantograph_locomotive(true), cab());
  } else {
    for (int locomotives = 1 + dice.upto(1); locomotives > 0; --locomotives) {
      scenario.add(scenario::locomotive(), cab());
    }
  }
  if (!dice.one_in(5)) {
    scenario.load(dice.one_in(3) ? LoadNature::dangerous : LoadNature::ordinary,
                  dice.between(20, 600));
  }
  if (dice.one_in(4)) {
    scenario.add(scenario::locomotive());
  }
}

void add_sections(Dice& dice, Scenario& scenario, double to_km) {
  std::vector<Section>& sections = scenario.request.route.sections;
  sections.front().to_km = to_km;
  sections.front().records = {{.number = 4, .distance_m = 5, .speed_kmh = 120}};
  double at_km = 0;
  while (dice.one_in(2) && at_km + 8 < to_km) {
    at_km += dice.between(2, 6);
    Section next = sections.back();
    sections.back().to_km = at_km;
    next.from_km = at_km;
    next.id = fmt::format("s{}", sections.size() + 1);
    next.line_speed_kmh = 40 + 20 * dice.upto(4);
    next.records = {{.number = 1 + dice.upto(3), .distance_m = 5, .speed_kmh = 120}};
    sections.push_back(next);
  }
}

void add_zones(Dice& dice, Scenario& scenario, double to_km) {
  Route& route = scenario.request.route;
  double at_km = dice.between(2, 4);
  int number = 0;
  while (at_km + 1 < to_km) {
    ++number;
    const double length_km = dice.between(0.02, 0.6);
    switch (dice.upto(2)) {
      case 0:
        route.lowered.push_back({.name = fmt::format("works {}", number),
                                 .from_km = at_km,
                                 .to_km = at_km + length_km,
                                 .place = {}});
        break;
      default:
        route.separations.push_back({.name = fmt::format("separation {}", number),
                                     .kind = SeparationKind::phase,
                                     .from_km = at_km,
                                     .length_m = 1000 * std::min(length_km, 0.4),
                                     .pantograph_lowered = dice.one_in(3),
                                     .breaker_off = true,
                                     .place = {}});
    }
    at_km += length_km + dice.between(0.1, 8);
  }
}

void add_marks(Dice& dice, Scenario& scenario, double to_km) {
  Route& route = scenario.request.route;
  route.stops = {{.name = "Start", .at_km = 0, .place = {}},
                 {.name = "End", .at_km = to_km, .place = {}}};
  if (dice.one_in(3)) {
    route.stops.insert(route.stops.begin() + 1, {.name = "Middle",
                                                 .at_km = std::round(to_km / 2),
                                                 .reversal = dice.one_in(2),
                                                 .place = {}});
  }
  for (double at_km = dice.between(0.2, 1); at_km < to_km; at_km += dice.between(0.1, 3)) {
    route.landmarks.push_back({.name = fmt::format("mark {:.1f}", at_km),
                               .at_km = at_km,
                               .change_on_the_move = dice.one_in(6),
                               .place = {}});
  }
}

Scenario dense_route(std::uint64_t seed) {
  Dice dice(seed);
  Scenario scenario;
  const double to_km = 14 + dice.upto(10);
  add_train(dice, scenario);
  add_sections(dice, scenario, to_km);
  add_zones(dice, scenario, to_km);
  add_marks(dice, scenario, to_km);
  return scenario;
}

TEST(AnObedientDriver, DoesNothingWrongOnDenseRoutes) {
  int planned = 0;
  int wrong = 0;
  for (int seed = 1; seed <= number_of_routes; ++seed) {
    const Scenario scenario = dense_route(static_cast<std::uint64_t>(seed));
    if (!cross_check(scenario.request).empty()) {
      continue;
    }
    ++planned;
    const DriverTimes times = driver_times(scenario.request.rules);
    const Plan plan = scenario.plan();
    const std::vector<DrivenFault> faults = drive(plan, {times.reaction_s, times.breaker_s});
    wrong += faults.empty() ? 0 : 1;
    if (!faults.empty() && wrong <= 400) {
      std::cout << fmt::format("route {}: km {:.3f}: {} [{}]\n", seed, faults.front().at_km,
                               faults.front().what, faults.size());
    }
  }
  EXPECT_GT(planned, number_of_routes * 9 / 10);
  EXPECT_EQ(wrong, 0) << "of " << planned;
}

}  // namespace

}  // namespace panup
