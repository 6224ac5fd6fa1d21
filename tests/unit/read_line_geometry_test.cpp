#include <gtest/gtest.h>

#include "bad_input_cases.h"
#include "files/read_route.h"

namespace panup {

namespace {

std::optional<Route> read(std::string_view what, std::string_view into) {
  std::string text(right_text(FileKind::route));
  text.replace(text.find(what), what.size(), into);
  Diagnostics diagnostics;
  auto route = read_route({.file = "f.toml", .text = text}, diagnostics);
  for (const Diagnostic& diagnostic : diagnostics) {
    ADD_FAILURE() << to_line(diagnostic);
  }
  return route;
}

TEST(Spans, AreReadInMetresWithTheirWires) {
  const auto route = read("line_speed_kmh = 100\n", R"(line_speed_kmh = 100
wires = [{ diameter_mm = 12, tension_n = 10000 }, { diameter_mm = 9, tension_n = 9000 }]
[[section.span]]
length_m = 50
stagger_mm = [250, -240]
curve_radius_m = 900
number = 12
)");
  ASSERT_TRUE(route);
  const Section& section = route->sections.at(1);
  ASSERT_EQ(section.spans.size(), 1U);
  EXPECT_EQ(section.spans[0].length_m, 50);
  EXPECT_DOUBLE_EQ(section.spans[0].stagger_m[0], 0.25);
  EXPECT_DOUBLE_EQ(section.spans[0].stagger_m[1], -0.24);
  EXPECT_EQ(section.spans[0].curve_radius_m, 900);
  EXPECT_EQ(section.spans[0].number, 12);
  ASSERT_EQ(section.wires.size(), 2U);
  EXPECT_EQ(section.wires[1].tension_n, 9000);
  EXPECT_TRUE(route->sections[0].spans.empty());
}

TEST(Spans, OfAProfileHoldForItsSections) {
  const auto route = read("line_speed_kmh = 120\n", R"(line_speed_kmh = 120
wires = [{ diameter_mm = 12, tension_n = 10000 }]
span = [{ length_m = 65, stagger_mm = [300, -300] }]
)");
  ASSERT_TRUE(route);
  ASSERT_EQ(route->sections.at(0).spans.size(), 1U);
  EXPECT_FALSE(route->sections[0].spans[0].curve_radius_m);
  EXPECT_TRUE(route->sections[1].spans.empty());
}

TEST(LowPlaces, AreReadInOrder) {
  const auto route = read("[[lowered]]", R"([[low_place]]
name = "Second"
from_km = 8
to_km = 8.1
wire_height_min_m = 4.9
[[low_place]]
name = "First"
from_km = 4
to_km = 4.2
wire_height_min_m = 4.8
[[lowered]])");
  ASSERT_TRUE(route);
  ASSERT_EQ(route->low_places.size(), 2U);
  EXPECT_EQ(route->low_places[0].name, "First");
  EXPECT_EQ(route->low_places[0].wire_height_min_m, 4.8);
  EXPECT_EQ(route->low_places[1].to_km, 8.1);
}

}  // namespace

}  // namespace panup
