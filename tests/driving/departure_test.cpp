/// A train may depart from anywhere on a route: it stands there with its tail under whatever lies
/// behind its front. That is held against the obedient driver, and against a second way that knows
/// nothing of it: the same route from its beginning, with a stop at that place.

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "dense_route.h"
#include "driving/drive.h"
#include "sanitized.h"
#include "stock/layout.h"

namespace panup {

namespace {

using scenario::Scenario;

constexpr std::uint64_t routes_departed_on = sanitized ? 9 : sparing ? 150 : 300;

bool is_in_lowered(const Route& route, double km) {
  return std::ranges::any_of(route.lowered,
                             [km](const LoweredStretch& lowered) {
                               return lowered.from_km <= km && km <= lowered.to_km;
                             }) ||
         std::ranges::any_of(route.separations, [km](const SeparationSection& separation) {
           const SeparationExtent extent = extent_of(separation);
           return separation.pantograph_lowered && extent.from_km <= km && km <= extent.to_km;
         });
}

/// Places all over the route, and others where something is just behind the front: borders, zones,
/// reversals within a train's length.
std::vector<double> departures_on(const Scenario& scenario, std::uint64_t seed) {
  std::mt19937_64 bits(seed);
  const auto upto = [&bits](std::uint64_t most) {
    return static_cast<double>(bits() % (most + 1));
  };
  const Route& route = scenario.request.route;
  const double to_km = route.sections.back().to_km;
  const double length_m = panup::length_m(scenario.request.train);
  std::vector<double> places{upto(static_cast<std::uint64_t>(1000 * to_km)) / 1000,
                             upto(static_cast<std::uint64_t>(1000 * to_km)) / 1000};
  std::vector<double> behind;
  for (const Section& section : route.sections) {
    behind.push_back(section.to_km);
  }
  for (const SeparationSection& separation : route.separations) {
    behind.push_back(extent_of(separation).to_km);
  }
  for (const Stop& stop : route.stops) {
    behind.push_back(stop.at_km);
  }
  for (int i = 0; i < 4; ++i) {
    const double from_km = behind[bits() % behind.size()];
    places.push_back(from_km + upto(static_cast<std::uint64_t>(length_m)) / 1000);
    places.push_back(from_km);
  }
  std::erase_if(places, [to_km](double km) { return km >= to_km - 0.05 || km <= 0; });
  return places;
}

TEST(AnObedientDriver, DoesNothingWrongWhereverTheTrainDeparts) {
  std::size_t planned = 0;
  std::uint64_t go = 0;
  for (std::uint64_t seed = 1; seed <= routes_departed_on; ++seed) {
    Scenario scenario = dense_route(seed);
    if (!cross_check(scenario.request).empty()) {
      continue;
    }
    for (const double km : departures_on(scenario, seed)) {
      scenario.request.route.departs_km = km;
      const Plan plan = scenario.plan();
      ++planned;
      go += plan.instructions.size() > 1 ? 1U : 0U;
      ASSERT_EQ(plan.sections.front().from_km, km);
      for (const DrivenFault& fault : drive(plan, driven_rules(scenario.request.rules))) {
        ADD_FAILURE() << "route " << seed << " from km " << km << ", km " << fault.at_km << ": "
                      << fault.what;
      }
      for (const Instruction& order : plan.instructions) {
        ASSERT_GE(order.at_km, km) << "route " << seed << ": " << order.text;
      }
    }
  }
  EXPECT_GT(planned, 6 * routes_departed_on);
  EXPECT_GT(go, planned / 2) << "a train that does not start is easy to drive";
}

const PlannedSection& section_at(const Plan& plan, double km) {
  return *std::ranges::find_if(plan.sections,
                               [km](const PlannedSection& section) { return km < section.to_km; });
}

/// Where two plans say something else of the same place, from `from_km` on; nothing where they
/// agree.
std::optional<std::string> difference(const Plan& one, const Plan& other, double from_km) {
  const double slowed_to_km = from_km + 2 * length_m(one.train) / 1000 + 0.5;
  std::set<double> borders;
  for (const Plan* const plan : {&one, &other}) {
    for (const PlannedSection& section : plan->sections) {
      borders.insert(std::max(section.from_km, from_km));
    }
  }
  borders.insert(one.sections.back().to_km);
  for (auto border = borders.begin(); std::next(border) != borders.end(); ++border) {
    const double km = (*border + *std::next(border)) / 2;
    const PlannedSection& a = section_at(one, km);
    const PlannedSection& b = section_at(other, km);
    if (a.answer != b.answer || a.raised != b.raised || a.lowered_for != b.lowered_for ||
        a.permitted_speed_kmh != b.permitted_speed_kmh || a.reversed != b.reversed ||
        a.put_dead_in_tow != b.put_dead_in_tow || a.speed_kmh < b.speed_kmh ||
        (km > slowed_to_km && a.speed_kmh != b.speed_kmh)) {
      return "km " + std::to_string(km) + ": " + std::string(name_of(a.answer)) + " at " +
             std::to_string(a.speed_kmh) + " of " + std::to_string(a.permitted_speed_kmh) +
             ", else " + std::string(name_of(b.answer)) + " at " + std::to_string(b.speed_kmh) +
             " of " + std::to_string(b.permitted_speed_kmh);
    }
  }
  return std::nullopt;
}

/// Whether the train comes to a place, and nothing that lies wholly behind it there is one with
/// what does not: pantographs stay down through both then, wherever it stands.
bool comes_to(const Plan& plan, double km) {
  return std::ranges::none_of(plan.sections,
                              [km](const PlannedSection& section) {
                                return section.from_km < km && section.answer == Answer::none;
                              }) &&
         std::ranges::none_of(plan.notes, [](const std::string& note) {
           return note.find("too little room to raise") != std::string::npos;
         });
}

/// The second way differs by right where the train comes to the stop with something up already that
/// the ladder keeps, and where it does not come there. Only what leaves the stop alike is compared;
/// ordered speeds are no lower than there, where what was up before the stop slows the train as
/// long as some of it is where that was up.
TEST(APlanFromAPlace, IsThatOfTheWholeRouteFromAStopThere) {
  std::size_t planned = 0;
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= routes_departed_on; ++seed) {
    Scenario scenario = dense_route(seed);
    if (!cross_check(scenario.request).empty()) {
      continue;
    }
    // At a stop it is said where not to stand; at departure nothing goes up there.
    scenario.rule("standing-at-a-stop").on = false;
    for (const double km : departures_on(scenario, seed)) {
      if (is_in_lowered(scenario.request.route, km)) {
        continue;
      }
      Scenario from_there = scenario;
      from_there.request.route.departs_km = km;
      Scenario with_stop = scenario;
      std::vector<Stop>& stops = with_stop.request.route.stops;
      if (std::ranges::find(stops, km, &Stop::at_km) == stops.end()) {
        stops.push_back({.name = "there", .at_km = km, .place = {}});
        std::ranges::sort(stops, {}, &Stop::at_km);
      }
      const Plan plan = from_there.plan();
      const Plan whole = with_stop.plan();
      if (!comes_to(whole, km)) {
        continue;
      }
      ++planned;
      if (section_at(plan, km).raised != section_at(whole, km + 1e-6).raised ||
          section_at(plan, km).answer != section_at(whole, km + 1e-6).answer) {
        continue;
      }
      ++compared;
      if (const auto found = difference(plan, whole, km)) {
        ADD_FAILURE() << "route " << seed << " from km " << km << ", " << *found;
      }
    }
  }
  EXPECT_GT(compared, planned * 3 / 4) << "of " << planned;
  EXPECT_GT(planned, routes_departed_on);
}

/// A locomotive of 19 m on ten kilometres, that departs from km 5.
Scenario at_km_5() {
  Scenario scenario;
  scenario.add(scenario::locomotive());
  scenario.section().to_km = 10;
  scenario.permits(2);
  scenario.request.route.stops.clear();
  scenario.request.route.departs_km = 5;
  return scenario;
}

/// Pantographs stand 4.5 and 14.5 m behind the front.
SectionInsulator insulator(double behind_m, double length_m) {
  return {.name = "insulator 7", .at_km = 5 - behind_m / 1000, .length_m = length_m, .place = {}};
}

TEST(ATrainThatDepartsWithinTheRoute, RaisesNothingWhereNoneMayStand) {
  Scenario scenario = at_km_5();
  EXPECT_EQ(scenario::up_on(scenario.plan()), "R1");
  scenario.request.route.section_insulators = {insulator(14.5, 2)};
  const Plan other = scenario.plan();
  EXPECT_EQ(scenario::up_on(other), "F1");
  EXPECT_TRUE(drive(other, driven_rules(scenario.request.rules)).empty());
  scenario.request.route.section_insulators = {insulator(19.5, 2)};
  EXPECT_EQ(scenario::up_on(scenario.plan()), "F1") << "it may stand up to 5 m before";
  scenario.request.route.section_insulators = {insulator(24, 2)};
  EXPECT_EQ(scenario::up_on(scenario.plan()), "R1");
  scenario.request.route.section_insulators = {insulator(9.5, 14)};
  const Plan none = scenario.plan();
  ASSERT_EQ(none.answer, Answer::none);
  EXPECT_NE(none.sections.front().findings.front().text.find("may stand"), std::string::npos)
      << none.sections.front().findings.front().text;
}

TEST(ATrainThatDepartsWithinTheRoute, IsSeenByTheDriverWhereItRaisesInAnInsulator) {
  Scenario scenario = at_km_5();
  const Plan plan = scenario.plan();
  scenario.request.route.section_insulators = {insulator(14.5, 2)};
  const std::vector<DrivenFault> faults =
      drive({.train = plan.train, .route = scenario.request.route, .orders = plan.instructions},
            driven_rules(scenario.request.rules));
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_NE(faults.front().what.find("insulator 7"), std::string::npos);
}

TEST(ATrainThatDepartsWithinTheRoute, StaysWhereItsFrontIsInWorks) {
  Scenario scenario = at_km_5();
  scenario.request.route.lowered = {{.name = "works", .from_km = 4.9, .to_km = 5.1, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.sections.front().answer, Answer::none);
  ASSERT_EQ(plan.instructions.size(), 1U);
  EXPECT_EQ(plan.instructions.front().speed_kmh, 0);
  scenario.request.route.lowered.front().to_km = 4.97;
  EXPECT_EQ(scenario::up_on(scenario.plan()), "R1") << "all of it is past them";
}

TEST(ATrainThatDepartsWithinTheRoute, IsSlowWhileSomeOfItIsInASlowSection) {
  Scenario scenario = at_km_5();
  scenario.load(LoadNature::ordinary, 300);
  Section slow = scenario.section();
  slow.id = "slow";
  slow.to_km = 4.9;
  slow.line_speed_kmh = 40;
  scenario.section().from_km = 4.9;
  scenario.request.route.sections.insert(scenario.request.route.sections.begin(), slow);
  const Plan plan = scenario.plan();
  const PlannedSection& first = plan.sections.front();
  EXPECT_EQ(first.speed_kmh, 40);
  EXPECT_GT(first.permitted_speed_kmh, 40);
  EXPECT_NEAR(first.to_km, 4.9 + 0.319, 0.011);
}

TEST(ATrainThatDepartsWithinTheRoute, DoesSoBeforeItsEnd) {
  Scenario scenario = at_km_5();
  EXPECT_TRUE(cross_check(scenario.request).empty());
  for (const double km : {-0.1, 10.0, 12.0}) {
    scenario.request.route.departs_km = km;
    EXPECT_EQ(cross_check(scenario.request).size(), 1U) << km;
  }
}

}  // namespace

}  // namespace panup
