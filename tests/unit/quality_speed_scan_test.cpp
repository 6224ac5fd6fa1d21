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

TEST(SpeedScan, WhatLiesBelowAFailingSpeedIsLookedAtAndNothingBeyondIt) {
  SpeedScan scan({.speeds_kmh = {40, 60, 80, 100, 120}, .edge_kmh = 1});
  scan.add(100, with_margin(-0.5));
  EXPECT_EQ(scan.wanted(), (std::vector<double>{40, 60, 80}));
  EXPECT_EQ(scan.wanted(2), (std::vector<double>{40, 60}));
}

TEST(SpeedScan, TheGapOfTheEdgeIsHalved) {
  SpeedScan scan({.speeds_kmh = {40, 60}, .edge_kmh = 1});
  scan.add(40, with_margin(0.9));
  scan.add(60, with_margin(-0.5));
  EXPECT_EQ(scan.wanted(), (std::vector<double>{50}));
  scan.add(50, with_margin(0.9));
  EXPECT_EQ(scan.wanted(), (std::vector<double>{55}));
}

/// Two flanks of 1/16 a km/h, from margins of 1/2 at both ends of a gap of 16 km/h, meet at 0.
TEST(SpeedScan, AGapWhoseMarginsJustReachIsNotHalved) {
  const auto wanted = [](double upper_margin) {
    SpeedScan scan({.speeds_kmh = {64, 80}, .edge_kmh = 1, .steepest_margin_per_kmh = 0.0625});
    scan.add(64, with_margin(0.5));
    scan.add(80, with_margin(upper_margin));
    return scan.wanted();
  };
  EXPECT_EQ(wanted(0.5), (std::vector<double>{}));
  EXPECT_EQ(wanted(0.4375), (std::vector<double>{72}));
}

TEST(SpeedScan, AMarginThatIsJustFarEnoughIsNotClose) {
  const auto wanted = [](double margin) {
    SpeedScan scan({.speeds_kmh = {64, 80}, .edge_kmh = 1, .close_margin = 0.25});
    scan.add(64, with_margin(0.9));
    scan.add(80, with_margin(margin));
    return scan.wanted();
  };
  EXPECT_EQ(wanted(0.25), (std::vector<double>{}));
  EXPECT_EQ(wanted(0.2), (std::vector<double>{72}));
}

TEST(SpeedScan, TheResultSaysWhatWasLookedAtAndWhatDecides) {
  SpeedScan scan({.speeds_kmh = {40, 55, 80}, .edge_kmh = 30});
  Judgement slow = with_margin(0.4);
  slow.pantographs = {{.mean_n = 70}};
  slow.greatest_force_n = 300;
  scan.add(40, slow);
  Judgement failing = with_margin(-0.1);
  failing.text = "there is no run";
  failing.refused = true;
  failing.pantograph = 3;
  failing.kind = RuleKind::speed_by_mechanics;
  failing.criterion = "speed-by-mechanics";
  scan.add(55, failing);
  const PermittedSpeed result = scan.result();
  EXPECT_EQ(result.looked_from_kmh, 40);
  EXPECT_EQ(result.looked_to_kmh, 80);
  EXPECT_EQ(result.step_kmh, 15);
  EXPECT_EQ(result.speed_kmh, 40);
  EXPECT_EQ(result.fails_at_kmh, 55);
  EXPECT_EQ(result.edge_error_kmh, 15);
  EXPECT_EQ(result.text, "there is no run");
  EXPECT_TRUE(result.refused);
  EXPECT_EQ(result.pantograph, 3);
  EXPECT_EQ(result.kind, RuleKind::speed_by_mechanics);
  EXPECT_EQ(result.criterion, "speed-by-mechanics");
  EXPECT_EQ(result.margin, -0.1);
  ASSERT_EQ(result.pantographs.size(), 1U);
  EXPECT_EQ(result.pantographs[0].mean_n, 70) << "at the last speed that passes";
  EXPECT_EQ(result.greatest_force_n, 300);
}

TEST(SpeedScan, ASingleSpeedHasNoStep) {
  SpeedScan scan({.speeds_kmh = {40}, .edge_kmh = 1});
  scan.add(40, with_margin(0.4));
  EXPECT_TRUE(scan.wanted().empty());
  EXPECT_EQ(scan.result().step_kmh, 0);
  EXPECT_EQ(scan.result().speed_kmh, 40);
}

TEST(SpeedScan, OfEquallyNearOnesTheSlowerIsNamed) {
  SpeedScan scan({.speeds_kmh = {40, 60}, .edge_kmh = 20});
  Judgement slower = with_margin(0.4);
  slower.text = "slower";
  scan.add(40, slower);
  scan.add(60, with_margin(0.4));
  EXPECT_EQ(scan.result().text, "slower");
}

TEST(SpeedScan, AGapIsHalvedDownToOneAndAHalfOfTheEdge) {
  const auto wanted = [](double failing_kmh, double edge_kmh) {
    SpeedScan scan({.speeds_kmh = {40, failing_kmh}, .edge_kmh = edge_kmh});
    scan.add(40, with_margin(0.9));
    scan.add(failing_kmh, with_margin(-0.5));
    return scan.wanted();
  };
  EXPECT_EQ(wanted(41.5, 1), (std::vector<double>{41}));
  EXPECT_EQ(wanted(41.4, 1), (std::vector<double>{}));
  EXPECT_EQ(wanted(43, 2), (std::vector<double>{42}));
  EXPECT_EQ(wanted(42.5, 2), (std::vector<double>{}));
}

}  // namespace
}  // namespace panup
