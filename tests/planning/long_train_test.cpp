/// Trains with more configurations than can be judged: what the search finds, against all of them
/// on small trains.

#include "plan/long_train.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "plan/candidates.h"
#include "plan/plan_notes.h"
#include "sanitized.h"
#include "searched_trains.h"

namespace panup::scenario {
namespace {

/// `search_small_trains` does the same with as many as one likes.
class SearchOfSmallTrains : public testing::TestWithParam<unsigned> {};

INSTANTIATE_TEST_SUITE_P(Some, SearchOfSmallTrains, testing::Range(0U, 6U));

TEST_P(SearchOfSmallTrains, FindsTheBestWayAndNoWayIsBelowTheBound) {
  constexpr unsigned trains = sanitized ? 7 : 50;
  const unsigned first = 1 + trains * GetParam();
  int bound_met = 0;
  int down_to_time = 0;
  for (unsigned seed = first; seed < first + trains; ++seed) {
    const Found found = search_case(seed);
    ASSERT_TRUE(found.found) << "seed " << seed;
    EXPECT_LE(found.least, found.best) << "seed " << seed;
    EXPECT_EQ(found.found->rungs, found.best.rungs)
        << "seed " << seed << ": " << words_for(where_they_part(*found.found, found.best));
    const Rung parted = where_they_part(found.least, found.best);
    bound_met += parted > Rung::put_dead ? 1 : 0;
    down_to_time += parted >= Rung::time ? 1 : 0;
  }
  EXPECT_GT(bound_met, trains / 4);  // a bound of nothing at all would be below every way, too
  EXPECT_GT(down_to_time, sanitized ? 0 : trains / 6) << "what is defective bounds as well";
}

TEST(LongTrain, SoManyConfigurationsAreCountedAsThereAre) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const Scenario scenario = longer_case(seed);
    const PlanningCase all = prepare(scenario.request);
    for (std::size_t piece = 0; piece < all.pieces.size(); ++piece) {
      const auto choices = choices_on(all.judge(piece), all.ground(piece));
      ASSERT_EQ(configuration_count(choices), static_cast<double>(configurations(choices).size()))
          << "seed " << seed;
    }
  }
}

// A consent for three counts where the line's record permits two.
TEST(LongTrain, AConsentForMoreThanTheRecordIsLookedAt) {
  Scenario scenario;
  for (int i = 0; i < 3; ++i) {
    scenario.add(locomotive()).load(LoadNature::ordinary, 20);
  }
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 80}};
  scenario.request.train.consents = {consent_for(3, 5, 80)};
  const Plan judged = scenario.plan();
  EXPECT_EQ(judged.sections.front().raised.size(), 3U);
  scenario.request.most_judged = 10;
  EXPECT_EQ(scenario.plan().sections.front().raised.size(), 3U) << "by the search of long trains";
}

/// Of all configurations of random trains: what is said of one vehicle's pantographs alone is said
/// of the whole.
TEST(LongTrain, WhatIsSaidOfAPartIsSaidOfTheWhole) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Scenario scenario = longer_case(seed);
    if (seed % 3 == 0) {
      scenario.dead(1);
    }
    const PlanningCase all = prepare(scenario.request);
    for (std::size_t piece = 0; piece < all.pieces.size(); ++piece) {
      if (all.pieces[piece].lowered) {
        continue;
      }
      const Judge& judge = all.judge(piece);
      const Ground& ground = all.ground(piece);
      for (const JudgedSet& whole : all.grounds[all.ground_of_piece[piece]]) {
        PantographSet part;
        for (const RunningVehicle& vehicle : judge.train().vehicles) {
          part |= vehicle.all & whole.raised;  // front first, one vehicle more each time
          const Verdict said = judge.judge_part(ground, part, whole.raised);
          ASSERT_FALSE(said.forbidden) << "seed " << seed;
          ASSERT_GE(said.speed_kmh, whole.verdict.speed_kmh) << "seed " << seed;
          ASSERT_LE(said.consent_needed, whole.verdict.consent_needed);
          ASSERT_EQ(said.put_dead, whole.verdict.put_dead);
          ASSERT_EQ(said.leading_put_dead, whole.verdict.leading_put_dead);
          ASSERT_LE(said.facing_pairs, whole.verdict.facing_pairs);
          ASSERT_LE(said.leading_short, whole.verdict.leading_short);
          ASSERT_LE(said.following_short, whole.verdict.following_short);
          ASSERT_LE(said.exposed_dangerous, whole.verdict.exposed_dangerous);
          ASSERT_LE(said.departures, whole.verdict.departures);
        }
        const Verdict again = judge.judge_part(ground, part, whole.raised);
        ASSERT_EQ(again.departures, whole.verdict.departures) << "seed " << seed;
        ASSERT_EQ(again.leading_short, whole.verdict.leading_short) << "seed " << seed;
      }
    }
  }
}

/// Twelve locomotives of four pantographs each.
Scenario twelve_locomotives() {
  Scenario scenario;
  for (int i = 0; i < 12; ++i) {
    scenario.add(four_pantograph_locomotive(true), i % 3 == 0 ? Cab::cab2 : Cab::cab1);
  }
  return scenario.load(LoadNature::ordinary);
}

TEST(LongTrain, TwelveLocomotivesRunAndTheNoteSaysHowFarTheSearchWent) {
  const Plan plan = twelve_locomotives().permits(12).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  ASSERT_EQ(plan.sections.size(), 1U);
  EXPECT_EQ(plan.sections[0].raised.size(), 12U);
  EXPECT_TRUE(plan.sections[0].put_dead_in_tow.empty());
  EXPECT_EQ(std::ranges::count_if(
                plan.notes,
                [](const std::string& note) { return note.starts_with("The train is long"); }),
            1);
  EXPECT_EQ(plan.contingencies.size(), 48U);
}

TEST(LongTrain, WhereFewMayBeUpTheOthersGoDead) {
  const Plan plan = twelve_locomotives().permits(3).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections[0].raised.size(), 3U);
  EXPECT_EQ(plan.sections[0].put_dead_in_tow.size(), 9U);
}

/// Nine locomotives with a wide head in front and a narrow one behind, wagons between them; the
/// line admits the wide one first, then both, then the narrow one, with a board where all may
/// change.
TEST(LongTrain, NineChangeOnTheMoveSomeBeforeTheOthers) {
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = narrow;
  Scenario scenario;
  for (int i = 0; i < 9; ++i) {
    scenario.add(type).load(LoadNature::ordinary, 20);
  }
  scenario.request.most_judged = 1000;
  auto& sections = scenario.request.route.sections;
  sections = {scenario.section(), scenario.section(), scenario.section()};
  for (std::size_t i = 0; i < sections.size(); ++i) {
    sections[i].id = fmt::format("s{}", i);
    sections[i].from_km = 10.0 * static_cast<double>(i);
    sections[i].to_km = sections[i].from_km + 10;
  }
  sections[1].permitted_head_widths_mm = {1600, 1950};
  sections[2].permitted_head_widths_mm = {1600};
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 15, .change_on_the_move = true, .place = {}}};
  // With 18 up all could change at once. With 14 five go first: 14 up, then nine, then 13. With 12
  // the first may be three at most, and so may the rest.
  const std::vector<int> numbers = sanitized ? std::vector{14} : std::vector{18, 14, 12};
  for (const int permitted : numbers) {
    for (Section& section : sections) {
      section.records = {{.number = permitted, .distance_m = 5, .speed_kmh = 80}};
    }
    const Plan plan = scenario.plan();
    EXPECT_EQ(plan.answer, Answer::permitted) << permitted;
    EXPECT_EQ(plan.sections.back().raised.size() == 9, permitted >= 14) << permitted;
  }
}

/// The note on a way whose cost is above the bound by so much on one rung.
std::string note_on(double configurations, Rung rung, std::int64_t above) {
  const PlanRequest request;
  PlanningCase planning;
  planning.request = &request;
  planning.search = Search{.configurations = configurations, .judged = 700, .least = {}};
  planning.search->least[Rung::time] = 100'000;
  Way way;
  way.cost = planning.search->least;
  way.cost[rung] += above;
  return search_notes(planning, way).at(0);
}

TEST(LongTrain, TheNoteSaysWhatMayBeBetterAndByHowMuch) {
  EXPECT_EQ(note_on(14641, Rung::time, 0),
            "The train is long: on one section it has 14641 configurations. 700 of them were "
            "judged, those that practice prefers, and this plan is the best that they make. No "
            "other can be better.");
  EXPECT_TRUE(note_on(14641, Rung::time, 75'000)
                  .ends_with(" In what stands above running time on the ladder no other can be "
                             "better. In running time another may be, by 1 min 15 s at most."))
      << note_on(14641, Rung::time, 75'000);
  const std::string points = note_on(2e6, Rung::following_points, 3);
  EXPECT_NE(points.find("it has more than a million configurations. 700 of them"),
            std::string::npos)
      << points;
  const std::string words(words_for(Rung::following_points));
  EXPECT_TRUE(points.ends_with(" In what stands above " + words +
                               " on the ladder no other can be better. In " + words +
                               " another may be."))
      << points;
}

TEST(LongTrain, IsBoundedUpToSoManyVehiclesThatCouldWork) {
  for (const std::size_t more : {0U, 1U}) {
    Scenario scenario;
    for (std::size_t i = 0; i < most_vehicles_bounded + more; ++i) {
      scenario.add(one_pantograph_locomotive());
    }
    const Scenario all = scenario.load(LoadNature::ordinary).permits(20);
    const LadderCost least = least_cost(prepare(all.request), {});
    EXPECT_EQ(least[Rung::time] > 0, more == 0) << "beyond, it says nothing";
    EXPECT_EQ(least[Rung::raised] > 0, more == 0);
  }
}

TEST(LongTrain, AShortTrainIsNotSearched) {
  const Plan plan = Scenario().add(locomotive()).load(LoadNature::ordinary).plan();
  EXPECT_TRUE(std::ranges::none_of(
      plan.notes, [](const std::string& note) { return note.starts_with("The train is long"); }));
}

}  // namespace
}  // namespace panup::scenario
