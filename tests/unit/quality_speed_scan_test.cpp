#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "quality/speed_scan.h"

namespace panup {
namespace {

Judgement with_margin(double margin) {
  Judgement judgement;
  judgement.passes = margin >= 0;
  judgement.margin = margin;
  judgement.swinging_margin = margin;
  judgement.criterion = "force-deviation";
  return judgement;
}

struct Scanned {
  PermittedSpeed speed;
  std::vector<double> looked_at;
};

/// Scans 40 to 140 km/h by 20 to an edge of 1.
Scanned scan(const std::function<double(double)>& margin, double steepest, std::size_t most = 4) {
  SpeedScan scan({.speeds_kmh = {40, 60, 80, 100, 120, 140},
                  .edge_kmh = 1,
                  .steepest_margin_per_kmh = steepest});
  Scanned scanned;
  for (auto wanted = scan.wanted(most); !wanted.empty(); wanted = scan.wanted(most)) {
    for (const double speed : wanted) {
      scanned.looked_at.push_back(speed);
      scan.add(speed, with_margin(margin(speed)));
    }
  }
  scanned.speed = scan.result();
  return scanned;
}

TEST(SpeedScan, EverySpeedPassing) {
  const Scanned scanned = scan([](double) { return 0.9; }, 0.04);
  EXPECT_EQ(scanned.speed.speed_kmh, 140);
  EXPECT_FALSE(scanned.speed.fails_at_kmh);
  EXPECT_EQ(scanned.looked_at, (std::vector<double>{40, 60, 80, 100, 120, 140}));
}

TEST(SpeedScan, TheEdgeIsFoundToWithinItsStep) {
  for (const double edge : {41.5, 60.0, 93.2, 119.9, 139.5}) {
    const Scanned scanned = scan([edge](double v) { return (edge - v) / 100; }, 0);
    EXPECT_LE(scanned.speed.speed_kmh, edge);
    EXPECT_GT(*scanned.speed.fails_at_kmh, edge);
    EXPECT_LE(scanned.speed.edge_error_kmh, 1);
    EXPECT_EQ(scanned.speed.edge_error_kmh, *scanned.speed.fails_at_kmh - scanned.speed.speed_kmh);
  }
}

TEST(SpeedScan, TheLowestSpeedFailing) {
  const Scanned scanned = scan([](double) { return -0.2; }, 0.04);
  EXPECT_EQ(scanned.speed.speed_kmh, 0);
  EXPECT_EQ(scanned.speed.fails_at_kmh, 40);
}

/// Fails within `half_width` of `centre`, with flanks as steep as `slope`, and has 0.9 elsewhere.
double band(double v, double centre, double half_width, double slope) {
  return std::min(0.9, slope * (std::abs(v - centre) - half_width));
}

TEST(SpeedScan, AFailingBandBetweenTwoStepsBelowAFasterGoodBandIsFound) {
  const auto margin = [](double v) { return band(v, 90, 1.2, 0.04); };
  const Scanned scanned = scan(margin, 0.04);
  EXPECT_GE(scanned.speed.speed_kmh, 87);
  EXPECT_LE(scanned.speed.speed_kmh, 88.8);
  EXPECT_FALSE(margin(*scanned.speed.fails_at_kmh) >= 0);
  EXPECT_EQ(scan(margin, 0).speed.speed_kmh, 140) << "without a slope the band is jumped";
}

TEST(SpeedScan, NoBandIsJumpedWhoseFlanksAreNoSteeperThanStated) {
  for (double centre = 41; centre < 139; centre += 0.37) {
    const Scanned scanned = scan([&](double v) { return band(v, centre, 0.6, 0.04); }, 0.04);
    EXPECT_LT(scanned.speed.speed_kmh, centre) << centre;
    EXPECT_GE(scanned.speed.speed_kmh, centre - 2) << centre;
  }
}

TEST(SpeedScan, WhatIsFarFromFailingIsNotLookedAtMoreClosely) {
  const Scanned scanned = scan([](double v) { return v < 110 ? 0.9 : 0.3; }, 0.04);
  for (const double speed : scanned.looked_at) {
    EXPECT_TRUE(speed >= 100 || std::fmod(speed, 20) == 0) << speed;
  }
}

TEST(SpeedScan, WhereAMarginIsCloseEverySpeedIsLookedAt) {
  SpeedScan scan({.speeds_kmh = {40, 60, 80}, .edge_kmh = 1, .close_margin = 0.2});
  for (auto wanted = scan.wanted(); !wanted.empty(); wanted = scan.wanted()) {
    for (const double speed : wanted) {
      scan.add(speed, with_margin(speed == 71 ? -0.5 : speed > 65 ? 0.1 : 0.9));
    }
  }
  EXPECT_EQ(scan.result().speed_kmh, 70);
  EXPECT_EQ(scan.result().fails_at_kmh, 71);
}

TEST(SpeedScan, NothingIsLookedAtBeyondTheFirstThatFailsButWhatWasAskedWithIt) {
  const Scanned scanned = scan([](double v) { return v < 70 ? 0.9 : -0.5; }, 0.04, 1);
  EXPECT_EQ(*std::ranges::max_element(scanned.looked_at), 80);
}

TEST(SpeedScan, TheRoundsMakeNoDifference) {
  const auto margin = [](double v) { return band(v, 105, 0.6, 0.04); };
  const PermittedSpeed one = scan(margin, 0.04, 1).speed;
  const PermittedSpeed many = scan(margin, 0.04, 6).speed;
  EXPECT_EQ(one.speed_kmh, many.speed_kmh);
  EXPECT_EQ(one.fails_at_kmh, many.fails_at_kmh);
}

TEST(SpeedScan, WhereAllPassTheLeastMarginIsNamed) {
  const Scanned scanned = scan([](double v) { return v == 80 ? 0.85 : 0.9; }, 0.04);
  EXPECT_EQ(scanned.speed.margin, 0.85);
  EXPECT_EQ(scanned.speed.criterion, "force-deviation");
}

}  // namespace
}  // namespace panup
