#include <gtest/gtest.h>

#include <algorithm>

#include "sample_plan.h"
#include "wording/fallback.h"

namespace panup {
namespace {

const Fallback& fallback_for(const std::vector<Fallback>& fallbacks, PantographRef failed) {
  return *std::ranges::find_if(fallbacks, [failed](const Fallback& fallback) {
    return std::ranges::find(fallback.failed, failed) != fallback.failed.end();
  });
}

TEST(Fallback, SaysWhatGoesUpForWhat) {
  const std::vector<Fallback> fallbacks = fallbacks_of(sample_plan());
  const Fallback& fallback = fallback_for(fallbacks, {1, 1});
  ASSERT_EQ(fallback.rows.size(), 2U);
  EXPECT_EQ(remedy_words(fallback.rows[0]), "raise 1.4 for 1.1");
  EXPECT_EQ(fallback.rows[0].where, (std::vector<KmStretch>{{0, 12.4}}));
  EXPECT_TRUE(fallback.rows[0].speed_as_planned);
  EXPECT_EQ(fallback.rows[1].where, (std::vector<KmStretch>{{12.4, 19.88}}));
  EXPECT_FALSE(fallback.rows[1].speed_as_planned);
  EXPECT_EQ(fallback.rows[1].speed_kmh, 60);
}

TEST(Fallback, OneRowForTheSameChangeAcrossStretchesWithPantographsDown) {
  const std::vector<Fallback> fallbacks = fallbacks_of(sample_plan());
  const Fallback& fallback = fallback_for(fallbacks, {1, 3});
  ASSERT_EQ(fallback.rows.size(), 1U);
  EXPECT_EQ(fallback.rows[0].where, (std::vector<KmStretch>{{45, 82.5}}));
}

TEST(Fallback, SaysWhereATrainIsStranded) {
  const std::vector<Fallback> fallbacks = fallbacks_of(sample_plan());
  const Fallback& fallback = fallback_for(fallbacks, {2, 1});
  ASSERT_EQ(fallback.rows.size(), 1U);
  EXPECT_TRUE(fallback.rows[0].stranded);
  EXPECT_EQ(fallback.rows[0].answer, Answer::none);
  EXPECT_EQ(remedy_words(fallback.rows[0]),
            "no permitted configuration; failing here, the train stands until help comes");
}

TEST(Fallback, ThoseThatChangeNothingStandTogetherAtTheEnd) {
  const std::vector<Fallback> fallbacks = fallbacks_of(unit_pair_plan());
  ASSERT_FALSE(fallbacks.empty());
  EXPECT_TRUE(fallbacks.back().rows.empty());
  EXPECT_EQ(fallbacks.back().failed, (std::vector<PantographRef>{{1, 2}, {2, 1}}));
}

TEST(Fallback, FromPlaceToPlaceTheRowHoldsThatNamesTheStretch) {
  const Plan plan = sample_plan();
  const std::vector<FallbackPlace> places = fallback_places(plan, {1, 1});
  ASSERT_GE(places.size(), 3U);
  EXPECT_EQ(places.front().from_km, plan.sections.front().from_km);
  EXPECT_EQ(places.back().to_km, plan.sections.back().to_km);
  EXPECT_EQ(places[0].to_km, 12.4);
  EXPECT_EQ(places[0].failed.row, 0U);
  EXPECT_EQ(places[0].failing, std::nullopt);
  EXPECT_EQ(places[0].failed.raised.front(), (PantographRef{1, 4}));
  EXPECT_EQ(places[1].to_km, 19.88);
  EXPECT_EQ(places[1].failed.row, 1U);
  EXPECT_EQ(places.back().failed.row, std::nullopt);
  EXPECT_TRUE(fallback_places(plan, {9, 9}).empty());
}

TEST(Fallback, WhereItFailsOnTheRoadTheRowOfThatHoldsBesideTheOther) {
  Plan plan = sample_plan();
  ASSERT_EQ(plan.contingencies[0].failed, (PantographRef{1, 1}));
  plan.contingencies[0].on_the_road[0].stranded = true;
  const std::vector<FallbackPlace> places = fallback_places(plan, {1, 1});
  EXPECT_EQ(places[0].failed.row, 0U);
  ASSERT_TRUE(places[0].failing.has_value());
  EXPECT_EQ(places[0].failing->row, 1U);
  EXPECT_EQ(places[0].failing->answer, Answer::none);
  EXPECT_TRUE(fallbacks_of(plan)[0].rows[1].failing_here);
}

TEST(Fallback, AnotherOutcomeOnTheRoadHasARowOfItsOwn) {
  Plan plan = sample_plan();
  Contingency& contingency = plan.contingencies[0];
  ASSERT_EQ(contingency.failed, (PantographRef{1, 1}));
  contingency.on_the_road[0].reaches_km = 19.88;
  contingency.on_the_road[0].answer = Answer::consent_needed;
  const std::vector<Fallback> fallbacks = fallbacks_of(plan);
  const Fallback& fallback = fallback_for(fallbacks, {1, 1});
  ASSERT_EQ(fallback.rows.size(), 3U);
  EXPECT_FALSE(fallback.rows[0].failing_here);
  EXPECT_TRUE(fallback.rows[1].failing_here);
  EXPECT_EQ(limits_words(fallback.rows[1]),
            "only with consent of the infrastructure manager; as far as km 19.88, no permitted "
            "configuration beyond");
}

TEST(Fallback, SaysWhichLoadIsExposedByWhatGoesUpInstead) {
  Plan plan = banking_plan();
  Contingency& contingency = plan.contingencies[0];
  ASSERT_EQ(contingency.failed, (PantographRef{1, 1}));
  const std::vector<ExposedLoad> exposed{
      {"petrol in tank wagons", LoadNature::dangerous, {{1, 2}}}};
  EXPECT_EQ(limits_words(fallback_for(fallbacks_of(plan), {1, 1}).rows[0]), "");
  contingency.sections[0].exposed = exposed;
  contingency.on_the_road[0].exposed = exposed;
  EXPECT_EQ(limits_words(fallback_for(fallbacks_of(plan), {1, 1}).rows[0]),
            "the dangerous load (petrol in tank wagons) is exposed to dust and sparks of 1.2");
  EXPECT_EQ(limits_words(fallback_for(fallbacks_of(plan), {2, 1}).rows[0]), "");
}

TEST(Fallback, AFailureOnTheRoadSaysWhatIsExposedThere) {
  Plan plan = banking_plan();
  RoadFailure& failure = plan.contingencies[0].on_the_road[0];
  failure.speed_kmh = 60;
  failure.exposed = {{"petrol in tank wagons", LoadNature::dangerous, {{1, 2}}}};
  const std::vector<Fallback> fallbacks = fallbacks_of(plan);
  const Fallback& fallback = fallback_for(fallbacks, {1, 1});
  ASSERT_EQ(fallback.rows.size(), 2U);
  EXPECT_TRUE(fallback.rows[0].exposed.empty());
  EXPECT_TRUE(fallback.rows[1].failing_here);
  EXPECT_EQ(fallback.rows[1].exposed, failure.exposed);
}

TEST(Fallback, WhatNeedsNoConsentIsSaidBesideWhatDoes) {
  Plan plan = sample_plan();
  RoadFailure& failure = plan.contingencies[0].on_the_road[0];
  failure.answer = Answer::consent_needed;
  failure.without_consent = "2.1 up, 100 km/h";
  const std::vector<Fallback> fallbacks = fallbacks_of(plan);
  const Fallback& fallback = fallback_for(fallbacks, {1, 1});
  EXPECT_TRUE(std::ranges::any_of(fallback.rows, [](const FallbackRow& row) {
    return limits_words(row) ==
           "only with consent of the infrastructure manager, without it: 2.1 up, 100 km/h";
  }));
}

TEST(Fallback, AVehicleThatGoesDeadIsNamed) {
  FallbackRow row;
  row.goes_up = {{2, 1}};
  row.goes_down = {{1, 2}, {2, 2}};
  row.put_dead_in_tow = {1};
  EXPECT_EQ(remedy_words(row), "raise 2.1 for 1.2 and 2.2, vehicle 1 dead in tow");
  row.goes_up.clear();
  EXPECT_EQ(remedy_words(row), "lower 1.2 and 2.2, vehicle 1 dead in tow");
  row.goes_down = {{1, 2}};
  row.put_dead_in_tow.clear();
  EXPECT_EQ(remedy_words(row), "nothing in its place");
}

}  // namespace
}  // namespace panup
