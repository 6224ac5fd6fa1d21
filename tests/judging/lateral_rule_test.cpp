#include "judging/lateral_rule.h"

#include <gtest/gtest.h>

#include <cmath>

#include "sample_case.h"

/// What the rule on the lateral position of the wire says. Wind load and blow-off: EN 50119 and
/// Kiessling, Puschmann, Schmieder, both from memory; worked out by hand beside each test, for
/// permitted positions of 0.55 m - 0.03 m (1950 mm head) and 0.40 m - 0.03 m (1600 mm head).

namespace panup {

namespace {

/// 65 m with the same stagger of 0.2 m at both supports: the wire may be blown 0.32 m further under
/// a 1950 mm head. Two wires of 12 and 9 mm, 15 and 9 kN: 24 kN, 21 mm.
struct LateralRuleTest : testing::Test {
  SampleCase sample;
  std::shared_ptr<PantographType> front = SampleCase::pantograph();
  std::shared_ptr<PantographType> rear = SampleCase::pantograph();
  std::shared_ptr<VehicleType> type = SampleCase::locomotive(front, rear);

  LateralRuleTest() {
    sample.add(type);
    sample.section.records = {{2, 5, 120}};
    sample.section.wires = {{.diameter_mm = 12, .tension_n = 15000},
                            {.diameter_mm = 9, .tension_n = 9000}};
    sample.section.spans = {span(65, 0.2)};
  }
  static SpanType span(double length_m, double stagger_m) {
    return {.length_m = length_m,
            .stagger_m = {stagger_m, stagger_m},
            .curve_radius_m = std::nullopt,
            .number = std::nullopt};
  }
  /// Of a load p on 24 kN: p = 1/2 x 1.25 x (1.45 v)^2 x 0.021 N/m, blow-off p l^2 / (8 x 24000).
  static double blow_off_m(double wind_ms, double length_m) {
    return 0.625 * 1.45 * 1.45 * wind_ms * wind_ms * 0.021 * length_m * length_m / (8 * 24000);
  }
  /// The wind of that blow-off.
  static double wind_ms_of(double blow_off, double length_m) {
    return std::sqrt(blow_off / blow_off_m(1, length_m));
  }
  std::vector<LateralMargin> margins(PantographSet raised) const {
    const Judge judge = sample.judge();
    return lateral_margins(sample.book, sample.wind_ms, judge.train(), sample.section, raised);
  }
};

TEST_F(LateralRuleTest, AWindThatTheSpanHoldsIsANote) {
  sample.wind_ms = 20;
  // 0.2 m + 0.2429 m; it holds a wind of 20 x sqrt(0.32 / 0.2429) = 22.96 m/s.
  EXPECT_NEAR(blow_off_m(20, 65), 0.2429, 5e-5);
  EXPECT_NEAR(wind_ms_of(0.32, 65), 22.96, 5e-3);
  const Said said = sample.with("1.2");
  EXPECT_EQ(said.of("lateral-position"),
            "note: 1.2, 1950 mm head: in wind of 20 m/s and its gusts the wire comes to 0.44 m "
            "from the middle of the track; permitted: 0.52 m, up to 23.0 m/s (span of 65 m with "
            "staggers of 200 and 200 mm).");
  EXPECT_FALSE(said.verdict.forbidden);
}

TEST_F(LateralRuleTest, AWindBeyondItIsForbidden) {
  sample.wind_ms = 22.9;
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden);
  sample.wind_ms = 23;
  const Said said = sample.with("1.2");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.first("lateral-position").strength, Strength::forbidden);
}

TEST_F(LateralRuleTest, IceOnTheWiresIsSaidToBeLeftOut) {
  sample.wind_ms = 20;
  sample.iced = true;
  EXPECT_TRUE(
      sample.with("1.2").of("lateral-position").ends_with(" Ice on the wires is not in it."));
  sample.wind_ms.reset();
  EXPECT_TRUE(
      sample.with("1.2").of("lateral-position").ends_with(" Ice on the wires is not in it."));
}

TEST_F(LateralRuleTest, WithoutAWindTheGreatestOneIsSaid) {
  EXPECT_EQ(sample.with("1.2").of("lateral-position"),
            "note: 1.2, 1950 mm head: the wire stays on the head in a wind of up to 23.0 m/s (span "
            "of 65 m with staggers of 200 and 200 mm).");
  EXPECT_FALSE(margins({1}).at(0).wind_known);
}

TEST_F(LateralRuleTest, WithoutAWindOfTheDayTheDesignWindCounts) {
  sample.rule("lateral-position").numbers["design_wind_ms"] = 30;
  const Said said = sample.with("1.2");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_TRUE(
      said.of("lateral-position")
          .starts_with("forbidden: 1.2, 1950 mm head: in the line's design wind of 30 m/s"));
  sample.wind_ms = 20;
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden) << "the day's goes before";
  EXPECT_TRUE(margins({1}).at(0).wind_of_the_day);
}

TEST_F(LateralRuleTest, TheSpanThatHoldsLeastDecides) {
  SpanType curve = span(50, 0.5);
  curve.curve_radius_m = 900;
  // In the curve the wire lies 50^2 / (8 x 900) = 0.347 m further in at midspan, 0.153 m out of
  // the middle; the wind from inside blows it to 0.5 m + its blow-off less that at most, but the
  // supports lie at 0.5 m whatever the wind.
  sample.section.spans = {span(40, 0.2), span(70, 0.2), span(65, 0.2), curve};
  const LateralMargin margin = margins({1}).at(0);
  EXPECT_EQ(margin.span.length_m, 70);
  EXPECT_NEAR(*margin.holds_ms, wind_ms_of(0.32, 70), 1e-9);
  sample.section.spans = {span(65, 0.2), span(65, 0.3)};
  EXPECT_NEAR(*margins({1}).at(0).holds_ms, wind_ms_of(0.22, 65), 1e-9);
  sample.section.spans = {curve};
  sample.wind_ms = 1;
  EXPECT_TRUE(sample.with("1.2")
                  .of("lateral-position")
                  .ends_with("(span of 50 m with staggers of 500 and 500 mm, curve of 900 m)."));
}

TEST_F(LateralRuleTest, ASpanThatHoldsNotEvenACalmIsForbiddenInAnyWind) {
  sample.section.spans = {span(65, 0.2), span(40, 0.6)};
  const Said said = sample.with("1.2");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.of("lateral-position"),
            "forbidden: 1.2, 1950 mm head: even in the calm the wire lies 0.60 m from the middle "
            "of the track in the span of 40 m with staggers of 600 and 600 mm; permitted: 0.52 m.");
  sample.wind_ms = 30;
  EXPECT_NEAR(margins({1}).at(0).position_m, 0.6, 1e-9) << "in the calm";
  EXPECT_FALSE(margins({1}).at(0).holds_ms);
}

TEST_F(LateralRuleTest, HeadsOfOneTypeStandTogetherFrontFirst) {
  type->pantographs[1].type = front;
  sample.add(SampleCase::locomotive(rear, front));
  sample.section.records = {{4, 5, 120}};
  // Types: 1.1 and 1.2 front, 2.1 rear, 2.2 front.
  const auto all = margins({0, 1, 2, 3});
  ASSERT_EQ(all.size(), 2U);
  EXPECT_EQ(all[0].heads, (std::vector<PantographRef>{{1, 1}, {1, 2}, {2, 2}}));
  EXPECT_EQ(all[1].heads, (std::vector<PantographRef>{{2, 1}}));
  EXPECT_TRUE(sample.with("1.1 1.2 2.2")
                  .of("lateral-position")
                  .starts_with("note: 1.1, 1.2, 2.2, 1950 mm head: the wire stays"));
}

TEST_F(LateralRuleTest, TheNarrowestHeadDecidesWhetherAllHold) {
  rear->head_width_mm = 1600;
  sample.section.permitted_head_widths_mm = {1600, 1950};
  // 0.17 m are left under the narrow head: 16.7 m/s; 23.0 m/s under the wide one.
  EXPECT_NEAR(wind_ms_of(0.17, 65), 16.73, 5e-3);
  sample.wind_ms = 18;
  EXPECT_FALSE(sample.with("1.1").verdict.forbidden);
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
  EXPECT_TRUE(sample.with("1.1 1.2").verdict.forbidden);
  EXPECT_FALSE(margins({0, 1}).at(1).holds());
  EXPECT_NEAR(margins({0, 1}).at(1).permitted_m, 0.37, 1e-12);
  EXPECT_EQ(margins({0, 1}).at(1).head_width_mm, 1600);
}

TEST_F(LateralRuleTest, AHeadOfUnknownWorkingWidthIsTakenOnTheSafeSide) {
  rear->head_width_mm = 1800;
  sample.section.permitted_head_widths_mm = {1800};
  // (1.8 - 2 x 0.25) / 2 - 0.2 - 0.03 = 0.42 m.
  EXPECT_TRUE(sample.with("1.2")
                  .of("lateral-position")
                  .starts_with("note: 1.2, 1800 mm head of unknown working width, taken on the "
                               "safe side: the wire stays"));
  EXPECT_NEAR(margins({1}).at(0).permitted_m, 0.42, 1e-12);
  EXPECT_TRUE(margins({1}).at(0).assumed);
}

TEST_F(LateralRuleTest, NothingIsSaidWithoutSpansOrWithoutTheRule) {
  sample.wind_ms = 40;
  sample.section.spans.clear();
  EXPECT_EQ(sample.with("1.2").of("lateral-position"), "");
  EXPECT_TRUE(margins({1}).empty());
  sample.section.spans = {span(65, 0.2)};
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
  sample.rule("lateral-position").on = false;
  EXPECT_TRUE(margins({1}).empty());
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden);
}

}  // namespace

}  // namespace panup
