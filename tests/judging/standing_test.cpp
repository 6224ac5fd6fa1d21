#include "judging/facts/standing.h"

#include <gtest/gtest.h>

#include <limits>

#include "row.h"

/// Where no collector head may stand. Source: common practice, no published source.

namespace panup {

namespace {

Route route_with(std::vector<SeparationZone> zones) {
  SeparationSection section;
  section.name = "Mosk";
  section.from_km = 10;
  section.length_m = 100;
  section.zones = std::move(zones);
  Route route;
  route.separations.push_back(section);
  return route;
}

void expect_stretch(const NoStandingStretch& stretch, const std::string& words, double from_km,
                    double to_km) {
  EXPECT_EQ(stretch.words, words);
  EXPECT_NEAR(stretch.from_km, from_km, 1e-12);
  EXPECT_NEAR(stretch.to_km, to_km, 1e-12);
}

TEST(Standing, IsForbiddenInEachZoneThatIsNotLive) {
  const auto stretches = no_standing_stretches(route_with(Row()
                                                              .before("R", 0)
                                                              .neutral(-2, 40)
                                                              .earthed(40, 60)
                                                              .neutral(60, 102)
                                                              .behind("S", 100)
                                                              .zones));
  ASSERT_EQ(stretches.size(), 3U);
  expect_stretch(stretches[0], "the neutral zone of Mosk", 9.998, 10.04);
  expect_stretch(stretches[1], "the earthed zone of Mosk", 10.04, 10.06);
  expect_stretch(stretches[2], "the neutral zone of Mosk", 10.06, 10.102);
}

TEST(Standing, IsForbiddenInAnOverlapOfTwoLiveWires) {
  const auto stretches =
      no_standing_stretches(route_with(Row().before("R", 100).behind("S", 20).zones));
  ASSERT_EQ(stretches.size(), 1U);
  expect_stretch(stretches[0], "the overlap of Mosk", 10.02, 10.1);
}

TEST(Standing, IsForbiddenInTheWholeSectionWhereNoZonesAreStatedAndInSectionInsulators) {
  Route route = route_with({});
  route.section_insulators = {{.name = "Insulator 7", .at_km = 12, .length_m = 4, .place = {}}};
  const auto stretches = no_standing_stretches(route);
  ASSERT_EQ(stretches.size(), 2U);
  expect_stretch(stretches[0], "Mosk", 10, 10.1);
  expect_stretch(stretches[1], "Insulator 7", 11.998, 12.002);
}

const std::vector<NoStandingStretch> one_stretch{{.words = "it", .from_km = 10, .to_km = 10.1}};

std::size_t bad_at(double front_km, double short_m = 0) {
  return bad_stands(one_stretch, heads({5}, 1).collectors, front_km, short_m).size();
}

TEST(Standing, AHeadIsInAStretchThatItsStripsJustReach) {
  EXPECT_EQ(bad_at(10.004'4), 0U);
  EXPECT_EQ(bad_at(10.004'5), 1U);  // 4.5 m of the train ahead of the strips
  EXPECT_EQ(bad_at(10.105'5), 1U);  // 5.5 m to their rear edge
  EXPECT_EQ(bad_at(10.105'6), 0U);
}

TEST(Standing, ATrainMayStopShortOfItsPlace) {
  EXPECT_EQ(bad_at(10.108, 2), 0U);
  EXPECT_EQ(bad_at(10.108, 3), 1U);
}

TEST(Standing, TheNearestPlaceBeforeIsClearOfAllHeads) {
  // Heads at 5 and 55 m: the front is clear up to km 10.0045 only, for the rear one enters the
  // stretch before the front one has left it.
  const auto raised = heads({5, 55}, 1);
  const auto metres = clear_before_m(one_stretch, raised.collectors, 10.06, 0, 500);
  ASSERT_TRUE(metres);
  EXPECT_EQ(*metres, 56);
  EXPECT_EQ(clear_before_m(one_stretch, raised.collectors, 10.2, 0, 500), 0);
  EXPECT_FALSE(clear_before_m(one_stretch, raised.collectors, 10.06, 0, 55));
}

TEST(Standing, APlaceBetweenTwoHeadsOfAShortStretchMayBeNearer) {
  const std::vector<NoStandingStretch> shorter{{.words = "it", .from_km = 10, .to_km = 10.004}};
  const auto raised = heads({5, 55}, 1);
  // The rear head is in it with the front from km 10.0545 to 10.0595; short of that both are clear.
  EXPECT_EQ(clear_before_m(shorter, raised.collectors, 10.057, 0, 500), 3);
}

TEST(Standing, IsFreeBetweenLiveWiresThatDoNotMeet) {
  EXPECT_TRUE(
      no_standing_stretches(route_with(Row().before("R", 0).behind("S", 10).zones)).empty());
}

TEST(Standing, WhatJustReachesCountsWhateverTheSumsAre) {
  for (int i = 0; i < 400; ++i) {
    const double behind_m = 0.7 * i;
    const auto bad = [&](double front_km) {
      return bad_stands(one_stretch, heads({behind_m}, 1).collectors, front_km, 0).size();
    };
    EXPECT_EQ(bad(10 + (behind_m - 0.5) / 1000), 1U) << behind_m;
    EXPECT_EQ(bad(10 + (behind_m - 0.501) / 1000), 0U) << behind_m;
    EXPECT_EQ(bad(10.1 + (behind_m + 0.5) / 1000), 1U) << behind_m;
    EXPECT_EQ(bad(10.1 + (behind_m + 0.501) / 1000), 0U) << behind_m;
  }
}

}  // namespace

}  // namespace panup
