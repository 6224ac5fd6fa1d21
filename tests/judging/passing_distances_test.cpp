/// How far apart two raised pantographs may stand to pass a separation section, against the sweep
/// at distances at random.

#include "judging/facts/passing_distances.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace panup {
namespace {

SeparationZone zone(ZoneKind kind, double from_m, double to_m, const char* phase = "") {
  return {.kind = kind, .from_m = from_m, .to_m = to_m, .phase = phase, .supply = {}, .place = {}};
}

constexpr double nowhere = std::numeric_limits<double>::infinity();

/// A neutral zone from `from_m` to `to_m` between two phases that reach to 0 and from `length_m`
/// on.
std::vector<SeparationZone> neutral(double from_m, double to_m, double length_m) {
  return {zone(ZoneKind::live, -nowhere, 0, "R"), zone(ZoneKind::neutral, from_m, to_m),
          zone(ZoneKind::live, length_m, nowhere, "S")};
}

TEST(PassingDistances, OneHeadOnEachOverlapJoinsTwoPhasesThroughTheNeutralZone) {
  // Overlaps from -3 to 0 and from 120 to 123 m, strips over 0.6 m: both heads stand on an overlap
  // at once where they are 120 - 0 - 0.6 to 123 + 3 + 0.6 m apart.
  const auto ranges = passing_distances(neutral(-3, 123, 120), 0.6);
  ASSERT_EQ(ranges.size(), 2U);
  EXPECT_EQ(ranges[0].from_m, 0);
  EXPECT_NEAR(ranges[0].to_m, 119.4, 1e-9);
  EXPECT_NEAR(ranges[1].from_m, 126.6, 1e-9);
  EXPECT_EQ(ranges[1].to_m, nowhere);
}

TEST(PassingDistances, WhereOneHeadJoinsThePhasesNoTwoPass) {
  EXPECT_TRUE(passing_distances(neutral(0, 0.4, 0.4), 0.6).empty());
}

TEST(PassingDistances, AreThoseAtWhichTheSweepFindsNothing) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> any(0, 1);
  int inside = 0;
  int outside = 0;
  for (int i = 0; i < 200; ++i) {
    const double length_m = 2 + 30 * any(random);
    const double overlap_m = 3 * (any(random) - 0.3);
    std::vector<SeparationZone> zones = neutral(-overlap_m, length_m + overlap_m, length_m);
    if (any(random) < 0.4) {  // an earthed zone in the middle of two neutral ones
      zones[1].to_m = length_m / 2 - any(random);
      zones.insert(zones.begin() + 2,
                   {zone(ZoneKind::earthed, length_m / 2 - 0.5, length_m / 2 + 0.5),
                    zone(ZoneKind::neutral, length_m / 2 + any(random), length_m + overlap_m)});
    }
    const double extent_m = 0.2 + any(random);
    const auto ranges = passing_distances(zones, extent_m);
    for (int j = 0; j < 20; ++j) {
      const double distance_m = 2 * length_m * any(random);
      const Collector first{
          .ref = {}, .behind_front_m = 5, .strip_extent_m = extent_m, .fit_for = {}};
      Collector second = first;
      second.behind_front_m += distance_m;
      const bool swept =
          passes(zones, {.collectors = {second, first}, .joins = {}}, BreakerAt::open);
      const bool told = std::ranges::any_of(
          ranges, [&](const DistanceRange& range) { return range.contains(distance_m); });
      EXPECT_EQ(told, swept) << distance_m << " m, case " << i;
      ++(swept ? inside : outside);
    }
  }
  EXPECT_GT(inside, 100);
  EXPECT_GT(outside, 100);
}

}  // namespace
}  // namespace panup
