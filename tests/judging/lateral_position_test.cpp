#include "judging/facts/lateral_position.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "judging/lateral_rule.h"

/// Source of the closed forms and of the permitted positions: Kiessling, Puschmann, Schmieder,
/// Contact Lines for Electric Railways (from memory, to be confirmed). The curve, and the wind that
/// a span holds, are derived from them and checked against the parabola point by point.

namespace panup {

namespace {

/// The greatest distance from the middle of the track, looked for on a fine grid and then by
/// parting the best step, with the wind from either side: nothing of the closed form is in it.
double looked_for_m(const WireSpan& span, double bend_per_m) {
  const auto position = [&](double x, double wind) {
    const double chord =
        span.stagger_m[0] + (span.stagger_m[1] - span.stagger_m[0]) * x / span.length_m;
    return std::abs(chord + (wind - span.curvature_per_m) / 2 * x * (span.length_m - x));
  };
  constexpr int steps = 2000;
  double greatest = 0;
  for (const double wind : {-bend_per_m, bend_per_m}) {
    int best = 0;
    for (int i = 0; i <= steps; ++i) {
      if (position(span.length_m * i / steps, wind) >
          position(span.length_m * best / steps, wind)) {
        best = i;
      }
    }
    double from = span.length_m * std::max(0, best - 1) / steps;
    double to = span.length_m * std::min(steps, best + 1) / steps;
    for (int i = 0; i < 100; ++i) {
      const double third = (to - from) / 3;
      (position(from + third, wind) < position(to - third, wind) ? from : to) +=
          position(from + third, wind) < position(to - third, wind) ? third : -third;
    }
    greatest = std::max(
        {greatest, position(from, wind), position(0, wind), position(span.length_m, wind)});
  }
  return greatest;
}

TEST(LateralPosition, InTheCalmOnStraightTrackIsTheLargerStagger) {
  EXPECT_DOUBLE_EQ(greatest_lateral_position_m({.length_m = 65, .stagger_m = {0.3, -0.3}}, 0), 0.3);
  EXPECT_DOUBLE_EQ(greatest_lateral_position_m({.length_m = 65, .stagger_m = {0.1, -0.25}}, 0),
                   0.25);
}

TEST(LateralPosition, OfEqualStaggersIsBlowOffAndStagger) {
  const double load = 12;
  const double tension = 24000;
  const double length = 60;
  EXPECT_NEAR(
      greatest_lateral_position_m({.length_m = length, .stagger_m = {0.2, 0.2}}, load / tension),
      load * length * length / (8 * tension) + 0.2, 1e-15);
}

TEST(LateralPosition, IsTheHandbooksFormula) {
  const double load = 15;
  const double tension = 25000;
  const double length = 70;
  const double b1 = 0.35;
  const double b2 = -0.15;
  EXPECT_NEAR(
      greatest_lateral_position_m({.length_m = length, .stagger_m = {b1, b2}}, load / tension),
      load * length * length / (8 * tension) + (b1 + b2) / 2 +
          tension * (b1 - b2) * (b1 - b2) / (2 * load * length * length),
      1e-15);
}

TEST(LateralPosition, InTheCalmOfACurveIsTheChord) {
  // Versine 0.5 m towards the inside, less the stagger of 0.3 m towards the outside.
  const WireSpan span{.length_m = 60, .stagger_m = {0.3, 0.3}, .curvature_per_m = 1.0 / 900};
  EXPECT_NEAR(greatest_lateral_position_m(span, 0), 0.3, 1e-15);
  const WireSpan tighter{.length_m = 60, .stagger_m = {0.1, 0.1}, .curvature_per_m = 1.0 / 900};
  EXPECT_NEAR(greatest_lateral_position_m(tighter, 0), 0.4, 1e-15);
}

TEST(LateralPosition, WhereThePlaceLiesBeyondTheSpanASupportDecides) {
  // The wind lifts the wire by 0.01 m in midspan; its top would lie beyond the support.
  const WireSpan span{.length_m = 50, .stagger_m = {0.3, -0.3}};
  const double bend = 8 * 0.01 / (50 * 50);
  EXPECT_DOUBLE_EQ(greatest_lateral_position_m(span, bend), 0.3);
  EXPECT_NEAR(looked_for_m(span, bend), 0.3, 1e-12);
}

class RandomSpans : public testing::Test {
 protected:
  double between(double least, double greatest) {
    return std::uniform_real_distribution<>(least, greatest)(engine_);
  }
  WireSpan span() {
    return {.length_m = between(20, 80),
            .stagger_m = {between(-0.45, 0.45), between(-0.45, 0.45)},
            .curvature_per_m = between(0, 1) < 0.5 ? 0 : 1 / between(180, 5000)};
  }

 private:
  std::mt19937_64 engine_{20};
};

TEST_F(RandomSpans, AgreeWithTheParabolaPointByPoint) {
  for (int i = 0; i < 2000; ++i) {
    const WireSpan one = span();
    const double bend = between(0, 1.5e-3);
    ASSERT_NEAR(greatest_lateral_position_m(one, bend), looked_for_m(one, bend), 1e-9) << i;
  }
}

TEST_F(RandomSpans, NeverLieNearerInMoreWind) {
  for (int i = 0; i < 2000; ++i) {
    const WireSpan one = span();
    const double bend = between(0, 1.5e-3);
    ASSERT_LE(greatest_lateral_position_m(one, bend),
              greatest_lateral_position_m(one, bend + between(0, 1e-3)) + 1e-15)
        << i;
  }
}

TEST_F(RandomSpans, HoldUpToTheGreatestBendAndNoFarther) {
  int held = 0;
  for (int i = 0; i < 2000; ++i) {
    const WireSpan one = span();
    const double permitted = between(0.2, 0.6);
    const auto bend = greatest_bend_per_m(one, permitted);
    ASSERT_EQ(bend.has_value(), greatest_lateral_position_m(one, 0) <= permitted) << i;
    if (bend) {
      ++held;
      ASSERT_NEAR(greatest_lateral_position_m(one, *bend), permitted, 1e-9) << i;
      ASSERT_GT(looked_for_m(one, *bend + 1e-6), permitted) << i;
    }
  }
  EXPECT_GT(held, 200);
}

TEST(WindLoad, IsThatOfTheFormulaAndTurnsBack) {
  // 1/2 x 1.25 kg/m3 x (26 m/s)2 x 1.0 x (12 + 9) mm.
  const WindLoad wind{.air_density_kg_per_m3 = 1.25, .drag_factor = 1, .diameter_m = 0.021};
  EXPECT_NEAR(load_n_per_m(wind, 26), 8.8725, 1e-12);
  EXPECT_NEAR(speed_ms_for(wind, load_n_per_m(wind, 26)), 26, 1e-12);
}

Rule rule_of_heads() {
  Rule rule;
  rule.kind = RuleKind::lateral_position;
  rule.numbers = {{"permitted_1600_m", 0.40},
                  {"permitted_1950_m", 0.55},
                  {"horn_not_stated_m", 0.25},
                  {"vehicle_sway_m", 0.2},
                  {"track_position_m", 0.03}};
  return rule;
}

PermittedPosition permitted(double head_mm, std::optional<double> working_mm = std::nullopt) {
  PantographType type;
  type.head_width_mm = head_mm;
  type.working_width_mm = working_mm;
  return permitted_position(rule_of_heads(), type);
}

TEST(PermittedPosition, IsThatOfTheHeadLessTheTrack) {
  EXPECT_NEAR(permitted(1600).position_m, 0.37, 1e-12);
  EXPECT_NEAR(permitted(1950).position_m, 0.52, 1e-12);
  EXPECT_FALSE(permitted(1950).assumed);
}

TEST(PermittedPosition, OfOtherHeadsFollowsFromTheWorkingWidth) {
  EXPECT_NEAR(permitted(1450, 1030).position_m, 0.515 - 0.2 - 0.03, 1e-12);
  EXPECT_FALSE(permitted(1450, 1030).assumed);
}

TEST(PermittedPosition, IsTheSmallerOneWhereWidthAndWorkingWidthBothSpeak) {
  EXPECT_NEAR(permitted(1600, 1000).position_m, 0.5 - 0.2 - 0.03, 1e-12);
  EXPECT_NEAR(permitted(1600, 1400).position_m, 0.37, 1e-12);
}

TEST(PermittedPosition, OfAnUnknownWorkingWidthTakesWideHorns) {
  EXPECT_NEAR(permitted(1450).position_m, 0.475 - 0.2 - 0.03, 1e-12);
  EXPECT_TRUE(permitted(1450).assumed);
  EXPECT_LT(permitted(1450).position_m, permitted(1450, 1030).position_m);
}

TEST(LateralPosition, ASpanThatJustHoldsTheCalmHoldsNoWind) {
  const auto bend = greatest_bend_per_m({.length_m = 50, .stagger_m = {0.3, 0.3}}, 0.3);
  ASSERT_TRUE(bend);
  EXPECT_NEAR(*bend, 0, 1e-15);
  EXPECT_FALSE(greatest_bend_per_m({.length_m = 50, .stagger_m = {0.31, 0.3}}, 0.3));
}

TEST(WindLoad, GrowsWithTheDrag) {
  // 1/2 x 1.25 kg/m3 x (20 m/s)2 x 1.2 x 12 mm.
  const WindLoad wind{.air_density_kg_per_m3 = 1.25, .drag_factor = 1.2, .diameter_m = 0.012};
  EXPECT_NEAR(load_n_per_m(wind, 20), 3.6, 1e-12);
  EXPECT_NEAR(speed_ms_for(wind, 3.6), 20, 1e-12);
}

}  // namespace

}  // namespace panup
