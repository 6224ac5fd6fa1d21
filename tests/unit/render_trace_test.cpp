#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "figures/thinned_trace.h"
#include "figures/wire_shapes_json.h"

namespace panup {
namespace {

/// Waves, and single rows that stand out: a peak, a dip, a loss of contact.
Trace long_trace(std::size_t rows) {
  Trace trace;
  Trace::OfPantograph one;
  for (std::size_t i = 0; i < rows; ++i) {
    const auto x = static_cast<double>(i);
    one.at_m.push_back(0.08 * x);
    one.filtered_force_n.push_back(80 + 20 * std::sin(x / 90));
    one.contact_force_n.push_back(80 + 25 * std::sin(x / 90) + 10 * std::sin(x / 7));
  }
  one.filtered_force_n[rows / 3] = 190;
  one.filtered_force_n[rows / 2] = 11;
  one.contact_force_n[rows / 2 + 40] = 0;
  one.contact_force_n[rows / 2 + 43] = 260;
  trace.pantographs = {one, one};
  return trace;
}

bool has(const std::vector<double>& values, double value) {
  return std::ranges::find(values, value) != values.end();
}

TEST(ThinnedTrace, KeepsEveryPeakAndDip) {
  const Trace trace = long_trace(20011);
  for (const std::size_t most : {100U, 999U, 6000U}) {
    const ThinnedTrace thinned = thinned_trace(trace, most);
    ASSERT_EQ(thinned.pantographs.size(), 2U);
    for (const ThinnedTrace::OfPantograph& one : thinned.pantographs) {
      EXPECT_LE(one.at_m.size(), most);
      EXPECT_GE(one.at_m.size(), most / 4);
      EXPECT_EQ(one.filtered_force_n.size(), one.at_m.size());
      EXPECT_EQ(one.contact_force_n.size(), one.at_m.size());
      EXPECT_TRUE(std::ranges::is_sorted(one.at_m));
      EXPECT_TRUE(has(one.filtered_force_n, 190));
      EXPECT_TRUE(has(one.filtered_force_n, 11));
      EXPECT_TRUE(has(one.contact_force_n, 0)) << "a loss of contact";
      EXPECT_TRUE(has(one.contact_force_n, 260));
    }
  }
}

TEST(ThinnedTrace, KeepsTheExtremesOfEachStretchAndNothingThatWasNotThere) {
  const Trace trace = long_trace(20000);
  const Trace::OfPantograph& whole = trace.pantographs[0];
  const ThinnedTrace thinned = thinned_trace(trace, 400);
  const auto& one = thinned.pantographs[0];
  for (std::size_t stretch = 0; stretch < 100; ++stretch) {
    const auto from = whole.filtered_force_n.begin() + static_cast<std::ptrdiff_t>(stretch) * 200;
    const auto [least, greatest] = std::minmax_element(from, from + 200);
    EXPECT_TRUE(has(one.filtered_force_n, *least)) << stretch;
    EXPECT_TRUE(has(one.filtered_force_n, *greatest)) << stretch;
  }
  for (std::size_t i = 0; i < one.at_m.size(); ++i) {
    const auto row = static_cast<std::size_t>(std::lround(one.at_m[i] / 0.08));
    EXPECT_EQ(one.filtered_force_n[i], whole.filtered_force_n[row]);
    EXPECT_EQ(one.contact_force_n[i], whole.contact_force_n[row]);
  }
}

TEST(ThinnedTrace, AShortOneIsAsItWas) {
  const Trace trace = long_trace(300);
  const ThinnedTrace thinned = thinned_trace(trace, 300);
  EXPECT_EQ(thinned.pantographs[0].contact_force_n, trace.pantographs[0].contact_force_n);
}

TEST(ThinnedTrace, JsonIsRounded) {
  ThinnedTrace trace;
  trace.pantographs.push_back({{1.23456}, {80.126}, {-0.001}});
  EXPECT_EQ(thinned_trace_to_json(trace).dump(),
            R"({"pantographs":[{"at_m":[1.235],"filtered_force_n":[80.13],)"
            R"("contact_force_n":[0.0]}]})");
}

TEST(WireShapesJson, SaysLiftsInTenthsOfAMillimetre) {
  WireShapes shapes;
  shapes.times_s = {1.5, 1.52};
  shapes.wires.push_back({.wire = ShapedWire::messenger,
                          .at_m = {100, 100.5},
                          .rest_m = {1.21234, 1.2},
                          .lift_m = {{0, 0.01234}, {-0.00001, 0.0123}}});
  shapes.pantographs_at_m = {{100, 60}, {101, 61}};
  shapes.head_height_m = {{0.05, 0.04}, {0.051, 0.041}};
  const auto json = wire_shapes_to_json(shapes);
  EXPECT_EQ(json["wires"][0]["name"], "messenger wire");
  EXPECT_EQ(json["wires"][0]["rest_m"].dump(), "[1.2123,1.2]");
  EXPECT_EQ(json["wires"][0]["lift_mm"].dump(), "[[0.0,12.3],[0.0,12.3]]");
  EXPECT_EQ(json["times_s"].dump(), "[1.5,1.52]");
  EXPECT_EQ(json["pantographs_at_m"][1][0], 101);
  EXPECT_EQ(json["head_height_m"][1][1], 0.041);
}

}  // namespace
}  // namespace panup
