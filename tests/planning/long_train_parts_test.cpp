/// What the search of long trains is made of, each part held against all configurations of small
/// trains: which sets of a vehicle are looked at, what is liked along the train, the bound, and
/// what is found when a pantograph of the way has failed.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "plan/candidates.h"
#include "plan/preferred_sets.h"
#include "sanitized.h"
#include "searched_trains.h"

namespace panup::scenario {
namespace {

/// A train as in `longer_case`, with pantographs that the operator orders up, and some rules of
/// practice turned off.
Scenario operators_case(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&random](unsigned below) { return random() % below; };
  Scenario scenario = longer_case(1000 + seed);
  for (const char* const id :
       {"two-points-leading", "two-points-following", "ice-two-leading", "ice-two-following",
        "load-protected", "rear-alone", "front-before-another", "runnable-first"}) {
    scenario.rule(id).on = pick(5) > 0;
  }
  for (ConsistItem& item : scenario.request.train.consist) {
    auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->defective.empty() && pick(3) == 0) {
      vehicle->kept_up = {1 + static_cast<int>(pick(2))};
    }
  }
  return scenario;
}

/// A few trains at a time.
class OfSmallTrains : public testing::TestWithParam<unsigned> {
 protected:
  /// What of the best ways with some pantographs down the search missed.
  static std::string missed(const PlanningCase& all, const PlanningCase& few, PantographSet down) {
    const LadderCost best = find_way(all, down).cost;
    const auto found = cost_by_all(all, find_way(few, down));
    return !found                       ? std::string("there is no such way")
           : found->rungs != best.rungs ? std::string(words_for(where_they_part(*found, best)))
                                        : std::string();
  }

  /// `but`: trains of which the search is known to miss the best, which it does not promise.
  template <typename Look>
  static void for_each(const std::vector<unsigned>& but, const Look& look) {
    constexpr unsigned in_a_part = sanitized ? 2 : 12;
    for (unsigned i = 0; i < in_a_part; ++i) {
      const unsigned seed = 1 + GetParam() * in_a_part + i;
      SCOPED_TRACE(fmt::format("seed {}", seed));
      if (std::ranges::find(but, seed) != but.end()) {
        continue;
      }
      look(seed % 3 == 0 ? longer_case(100 + seed) : operators_case(seed));
    }
  }
};

TEST_P(OfSmallTrains, TheSearchFindsTheBestWayAlsoWhenAPantographOfItHasFailed) {
  for_each({18}, [](const Scenario& scenario) {
    const Scenario narrow = searched(scenario);
    const PlanningCase all = prepare(scenario.request);
    const PlanningCase few = prepare(narrow.request);
    const PantographSet defective = defective_of(all);
    EXPECT_EQ(missed(all, few, defective), "");
    EXPECT_EQ(all.useful_speed_kmh, few.useful_speed_kmh) << "the slowest is among what is judged";
    PantographSet up;
    for (const RaisedOrBlocked& raised : find_way(few, defective).raised) {
      up |= raised.value_or(PantographSet{});
    }
    for (const std::size_t p : up) {
      EXPECT_EQ(missed(all, few, defective | PantographSet{p}), "") << "without " << p;
    }
    double most = 0;
    for (std::size_t i = 0; i < all.pieces.size(); ++i) {
      if (!all.pieces[i].lowered) {
        most = std::max(most, configuration_count(choices_on(all.judge(i), all.ground(i))));
      }
    }
    EXPECT_EQ(few.search.value().configurations, most);
    EXPECT_GT(few.search.value().judged, 0U);
    EXPECT_LE(few.search.value().least, find_way(all, defective).cost);
  });
}

TEST_P(OfSmallTrains, WhereFewMayBeUpTheRightOnesGoDead) {
  for_each({}, [](const Scenario& any) {
    Scenario scenario = any;
    scenario.add(locomotive()).load(LoadNature::dangerous, 40);
    std::size_t number = 0;
    for (Section& section : scenario.request.route.sections) {
      section.records = {{.number = ++number % 3 == 0 ? 2 : 1, .distance_m = 5, .speed_kmh = 80}};
    }
    const Scenario narrow = searched(scenario);
    const PlanningCase all = prepare(scenario.request);
    const PlanningCase few = prepare(narrow.request);
    EXPECT_EQ(missed(all, few, defective_of(all)), "");
  });
}

TEST_P(OfSmallTrains, TheFirstOfWhatIsLikedAlongTheTrainIsTheBestOfAll) {
  for_each({41, 88}, [](const Scenario& scenario) {
    const PlanningCase all = prepare(scenario.request);
    for (std::size_t i = 0; i < all.pieces.size(); ++i) {
      if (all.pieces[i].lowered) {
        continue;
      }
      const auto cost_by = [&](PantographSet set) {
        return cost_of(all.judge(i).judge(all.ground(i), set, {}), 1000, all.terms);
      };
      std::optional<LadderCost> best;
      for (const JudgedSet& one : all.sets_on(i)) {
        if (!one.raised.intersects(defective_of(all))) {
          const LadderCost cost = cost_by(one.raised);
          best = best ? std::min(*best, cost) : cost;
        }
      }
      const std::vector<PantographSet> liked = preferred_sets(
          all.judge(i), all.ground(i),
          narrowed(all.judge(i), all.ground(i), choices_on(all.judge(i), all.ground(i))),
          defective_of(all), all.terms);
      ASSERT_EQ(liked.empty(), !best) << "piece " << i;
      if (best) {
        EXPECT_EQ(cost_by(liked.front()).rungs, best->rungs) << "piece " << i;
      }
    }
  });
}

INSTANTIATE_TEST_SUITE_P(Some, OfSmallTrains, testing::Range(0U, 8U));

/// The sets that are looked at of the `number`th vehicle.
std::vector<PantographSet> looked_at(const Scenario& scenario, std::size_t number = 1) {
  const PlanningCase planning = prepare(scenario.request);
  const Judge& judge = planning.judge(0);
  const Ground& ground = planning.ground(0);
  return narrowed(judge, ground, choices_on(judge, ground)).at(number - 1).sets;
}

/// One single-strip pantograph in front, a multi-strip one behind.
std::shared_ptr<const VehicleType> single_strip_in_front() {
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.front().type = pantograph({.strips = 1});
  return type;
}

using Sets = std::vector<PantographSet>;

TEST(SetsOfAVehicle, TwoAreLookedAtOnlyWhereNeitherIsEnoughAlone) {
  const Sets just_one{{}, {0}, {1}};
  const Sets one_or_both{{}, {0}, {1}, {0, 1}};
  EXPECT_EQ(looked_at(Scenario().add(locomotive())), just_one);
  EXPECT_EQ(looked_at(Scenario().add(locomotive({.strips = 1}))), one_or_both);
  EXPECT_EQ(looked_at(Scenario().add(single_strip_in_front())), just_one)
      << "the multi-strip one is enough, and needs no other beside it";
  EXPECT_EQ(looked_at(Scenario().add(locomotive()).ice()), one_or_both);
}

TEST(SetsOfAVehicle, ThatFollowsAreThoseThatItWantsThere) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive({.strips = 1}));
  scenario.rule("two-points-leading").on = false;
  EXPECT_EQ(looked_at(scenario, 2), (Sets{{}, {2}, {3}, {2, 3}}));
  scenario.rule("two-points-following").on = false;
  EXPECT_EQ(looked_at(scenario, 2), (Sets{{}, {2}, {3}}));
}

TEST(SetsOfAVehicle, HoldWhatIsOrderedUpAndWhatThatWantsBesideIt) {
  Scenario scenario = Scenario().add(single_strip_in_front());
  scenario.vehicle(1).kept_up = {1};
  EXPECT_EQ(looked_at(scenario), (Sets{{0}, {0, 1}}));
}

/// On one piece: whether nothing but the distances makes the best cost more than the bound.
void expect_met(const Scenario& scenario, std::size_t number_up) {
  const PlanningCase planning = prepare(scenario.request);
  ASSERT_EQ(planning.pieces.size(), 1U);
  const RaisedOrBlocked best = find_way(planning, {}).raised.front();
  EXPECT_EQ(best.value().size(), number_up);
  LadderCost cost = piece_cost(planning, 0, best, {});
  cost[Rung::least_distance] = 0;
  cost[Rung::distance_sum] = 0;
  EXPECT_EQ(least_cost(planning, {}).rungs, cost.rungs);
}

TEST(TheBound, IsTheCostItselfWhereEveryVehicleHasWhatServesItBest) {
  Scenario alone = Scenario().add(locomotive()).load(LoadNature::ordinary).permits(2);
  expect_met(alone, 1);
  Scenario both_ordered = alone;
  both_ordered.vehicle(1).kept_up = {1, 2};
  expect_met(both_ordered, 2);
  Scenario exposing = Scenario().add(locomotive()).load(LoadNature::dangerous).permits(2);
  exposing.vehicle(1).kept_up = {2};
  expect_met(exposing, 1);
  // The rear one, which practice wants, would go up where none may stand.
  Scenario over_an_insulator = alone;
  over_an_insulator.request.route.departs_km = 5;
  over_an_insulator.request.route.section_insulators = {
      {.name = "Insulator", .at_km = 5 - 0.0145, .length_m = 2, .place = {}}};
  expect_met(over_an_insulator, 1);
}

TEST(TheBound, TakesSoManyAsFarApartAsTheyCanBe) {
  // Three locomotives of one pantograph each, 119 m apart.
  Scenario scenario;
  for (int i = 0; i < 3; ++i) {
    scenario.add(one_pantograph_locomotive()).load(LoadNature::ordinary, 100);
  }
  scenario.section().records = {{.number = 3, .distance_m = 300, .speed_kmh = 110},
                                {.number = 3, .distance_m = 150, .speed_kmh = 90},
                                {.number = 3, .distance_m = 100, .speed_kmh = 70},
                                {.number = 3, .distance_m = 50, .speed_kmh = 50}};
  expect_met(scenario, 3);
}

}  // namespace
}  // namespace panup::scenario
