#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "drawing/diagram_sheets.h"

namespace panup {
namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double endless = std::numeric_limits<double>::infinity();

bool is_round(double step) {
  const double power = std::pow(10.0, std::floor(std::log10(step) + 1e-9));
  const double digit = step / power;
  return std::ranges::any_of(std::array{1.0, 2.0, 5.0},
                             [digit](double round) { return std::abs(digit - round) < 1e-6; });
}

void expect_even_round_ticks(const Axis& axis) {
  for (std::size_t i = 1; i < axis.ticks.size(); ++i) {
    const double step = axis.ticks[i] - axis.ticks[i - 1];
    EXPECT_TRUE(is_round(step)) << step;
    EXPECT_NEAR(step, axis.ticks[1] - axis.ticks[0], 1e-9 * std::abs(step));
  }
}

TEST(RoundAxis, HoldsItsValuesAndEndsAtRoundTicks) {
  for (const auto& [least, greatest] :
       {std::pair{0.0, 113.0}, std::pair{-13.0, 242.0}, std::pair{0.0012, 0.0047},
        std::pair{-5e6, 3.0}, std::pair{99.9, 100.1}, std::pair{-0.026, 1.8}}) {
    for (const int most : {1, 3, 5, 9}) {
      const Axis axis = round_axis(least, greatest, most);
      EXPECT_LE(axis.from, least);
      EXPECT_GE(axis.to, greatest);
      ASSERT_GE(axis.ticks.size(), 2U);
      EXPECT_LE(axis.ticks.size(), static_cast<std::size_t>(std::max(3, most)));
      EXPECT_NEAR(axis.ticks.front(), axis.from, 1e-9 * axis.span());
      EXPECT_NEAR(axis.ticks.back(), axis.to, 1e-9 * axis.span());
      expect_even_round_ticks(axis);
    }
  }
}

TEST(RoundAxis, HasARangeWhateverItIsGiven) {
  for (const double one : {0.0, 7.0, -1e300, not_a_number, endless}) {
    for (const double other : {0.0, 7.0, 1e-320, not_a_number, -endless}) {
      const Axis axis = round_axis(one, other, 5);
      EXPECT_TRUE(std::isfinite(axis.from) && std::isfinite(axis.to)) << one << " " << other;
      EXPECT_GT(axis.to, axis.from) << one << " " << other;
      EXPECT_GE(axis.ticks.size(), 2U) << one << " " << other;
    }
  }
}

TEST(AxisWithin, KeepsItsRangeAndTicksWithinIt) {
  const Axis axis = axis_within(325, 1240, 9);
  EXPECT_EQ(axis.from, 325);
  EXPECT_EQ(axis.to, 1240);
  EXPECT_EQ(axis.ticks.front(), 400);
  EXPECT_EQ(axis.ticks.back(), 1200);
  expect_even_round_ticks(axis);
}

TEST(TickWords, HaveTheDecimalsThatTheTicksNeedAndAMinusSign) {
  EXPECT_EQ(tick_words(round_axis(0, 0.9, 5), 0.2), "0.2");
  EXPECT_EQ(tick_words(round_axis(0, 0.9, 5), 0.2, built_in_words("de")), "0,2");
  EXPECT_EQ(tick_words(round_axis(-90, 90, 5), -50), "−50");
  EXPECT_EQ(tick_words(round_axis(-90, 90, 5), -0.0), "0");
}

TEST(Spread, LeavesAloneWhatDoesNotTouch) {
  EXPECT_EQ(spread({10, 50, 30}, 10, 0, 100), (std::vector<double>{10, 50, 30}));
}

TEST(Spread, MovesWhatTouchesApartAboutItsMiddle) {
  const std::vector<double> places = spread({50, 50, 50}, 10, 0, 100);
  EXPECT_EQ(places, (std::vector<double>{40, 50, 60}));
}

TEST(Spread, KeepsOrderDistanceAndEnds) {
  const std::vector<double> wanted{97, 2, 3, 96, 51, 95, 1};
  const std::vector<double> places = spread(wanted, 10, 0, 100);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_GE(places[i], 5 - 1e-9);
    EXPECT_LE(places[i], 95 + 1e-9);
    for (std::size_t j = 0; j < wanted.size(); ++j) {
      if (wanted[i] < wanted[j]) {
        EXPECT_GE(places[j] - places[i], 10 - 1e-9) << i << " " << j;
      }
    }
  }
}

TEST(Spread, StandsEvenlyWhereThereIsNoRoom) {
  const std::vector<double> places = spread({5, 5, 5, 5}, 10, 0, 20);
  EXPECT_EQ(places, (std::vector<double>{2.5, 7.5, 12.5, 17.5}));
}

TEST(Thinned, KeepsEndsAndExtremes) {
  std::vector<Point> points;
  for (int i = 0; i < 100000; ++i) {
    points.push_back({i * 0.001, std::sin(i * 0.37)});
  }
  points[54321].y = 9;
  points[12345].y = -9;
  const std::vector<Point> kept = thinned(points, 0.5);
  EXPECT_LE(kept.size(), 4U * 201U);
  EXPECT_EQ(kept.front().x, points.front().x);
  EXPECT_EQ(kept.back().x, points.back().x);
  EXPECT_EQ(std::ranges::max(kept, {}, &Point::y).y, 9);
  EXPECT_EQ(std::ranges::min(kept, {}, &Point::y).y, -9);
  EXPECT_TRUE(std::ranges::is_sorted(kept, {}, &Point::x));
}

TEST(Thinned, LeavesFewPointsAsTheyAre) {
  const std::vector<Point> points{{0, 1}, {1, 2}, {2, 0}};
  EXPECT_EQ(thinned(points, 0.5).size(), 3U);
  EXPECT_TRUE(thinned({}, 0.5).empty());
}

std::vector<DrawnText> texts_of(const Diagram& diagram, const Box& box) {
  const TextSetter setter;
  return texts_of_sheet(a4_landscape, 0, [&](Canvas& canvas, std::size_t) {
    draw_diagram(canvas, setter, box, diagram);
  });
}

std::vector<std::string> words_of(const std::vector<DrawnText>& texts) {
  std::vector<std::string> words;
  std::ranges::transform(texts, std::back_inserter(words), &DrawnText::text);
  return words;
}

bool has_text(const std::vector<DrawnText>& texts, std::string_view what) {
  return std::ranges::find(texts, what, &DrawnText::text) != texts.end();
}

constexpr Box box{34, 60, 770, 160};

TEST(Diagram, LevelsThatLieTogetherHaveNamesThatDoNot) {
  Diagram diagram;
  diagram.levels = {{10, "mean + 3σ 10 N"}, {10.001, "mean 10 N"}, {9.999, "mean − 3σ 10 N"}};
  const auto texts = texts_of(diagram, box);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    EXPECT_LE(texts[i].ink.bottom(), box.bottom()) << texts[i].text;
    for (std::size_t j = i + 1; j < texts.size(); ++j) {
      const Box& a = texts[i].ink;
      const Box& b = texts[j].ink;
      EXPECT_FALSE(a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom())
          << texts[i].text << " | " << texts[j].text;
    }
  }
  EXPECT_TRUE(has_text(texts, "mean 10 N"));
}

TEST(Diagram, WhatIsNoNumberIsLeftOut) {
  Diagram diagram;
  diagram.curves.push_back({{{0, 1}, {0.2, not_a_number}, {0.4, endless}, {0.6, 3}, {0.8, 4}}, {}});
  diagram.bars.push_back({0.1, 0.2, not_a_number, BarFill::black, "none"});
  const auto texts = texts_of(diagram, box);
  EXPECT_TRUE(has_text(texts, "4"));
  EXPECT_FALSE(has_text(texts, "none"));
  for (const DrawnText& text : texts) {
    EXPECT_TRUE(std::isfinite(text.ink.x) && std::isfinite(text.ink.y)) << text.text;
    EXPECT_EQ(text.text.find("nan"), std::string::npos);
  }
}

TEST(Diagram, LabelsOfTheHighestBarsComeFirstWhereThereIsNoRoomForAll) {
  Diagram diagram;
  diagram.x_to = 100;
  for (int i = 0; i < 400; ++i) {
    const double height = i == 200 ? 500 : 400;
    diagram.bars.push_back(
        {0.25 * i, 0.25 * i + 0.2, height, BarFill::black, i == 200 ? "highest" : "400"});
  }
  const auto texts = texts_of(diagram, box);
  EXPECT_TRUE(has_text(texts, "highest"));
  const auto words = words_of(texts);
  EXPECT_LT(std::ranges::count(words, std::string("400")), 60);
}

TEST(Diagram, SaysHowMuchLargerHeightsAreDrawn) {
  Diagram diagram;
  diagram.y_name = "m";
  diagram.x_to = 400;
  diagram.y_units_of_x_unit = 1;
  diagram.curves.push_back({{{0, 0}, {400, 2}}, {}});
  const TextSetter setter;
  const DiagramFrame frame = frame_of(setter, box, diagram);
  const double up = frame.area.height / frame.y.span();
  const double along = frame.area.width / frame.x.span();
  const auto told = std::to_string(std::lround(up / along));
  EXPECT_TRUE(
      has_text(texts_of(diagram, box), "m; heights drawn " + told + " times as large as lengths"));
}

TEST(Diagram, IsDrawnWithNothingInIt) { EXPECT_GE(texts_of({}, box).size(), 4U); }

}  // namespace
}  // namespace panup
