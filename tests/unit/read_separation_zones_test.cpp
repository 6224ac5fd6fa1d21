#include <gtest/gtest.h>

#include <cmath>

#include "bad_input_cases.h"
#include "files/read_route.h"
#include "separation_texts.h"

namespace panup {

namespace {

std::string route_with(std::string_view separation, const std::string& before) {
  std::string text(right_text(FileKind::route));
  return text.insert(text.find(before), separation);
}

TEST(SeparationZones, AreReadAsTheyStand) {
  Diagnostics diagnostics;
  const auto route = read_route(
      {.file = "f.toml", .text = route_with(right_phase_separation, "[[lowered]]")}, diagnostics);
  ASSERT_TRUE(route) << to_line(diagnostics.front());
  const SeparationSection& moor = route->separations.front();
  EXPECT_EQ(moor.name, "Moor");
  ASSERT_EQ(moor.zones.size(), 5U);
  EXPECT_TRUE(std::isinf(moor.zones.front().from_m));
  EXPECT_TRUE(std::isinf(moor.zones.back().to_m));
  EXPECT_EQ(name_of(moor.zones.front()), "phase R");
  EXPECT_EQ(name_of(moor.zones[1]), "the neutral zone");
  EXPECT_EQ(moor.zones[1].from_m, -2);
  EXPECT_EQ(moor.zones[2].kind, ZoneKind::insulator);
  EXPECT_EQ(moor.zones[3].kind, ZoneKind::earthed);
  // It reaches as far as the neutral wire on either side.
  EXPECT_DOUBLE_EQ(extent_of(moor).from_km, 6.998);
  EXPECT_DOUBLE_EQ(extent_of(moor).to_km, 7.103);
}

TEST(SeparationZones, HaveTheSystemsThatTheySeparate) {
  std::string text(right_text(FileKind::route));
  const std::string last = "length_is = \"minimum between inner strips\"\n";
  text.replace(text.find(last), last.size(), right_system_zones);
  Diagnostics diagnostics;
  const auto route = read_route({.file = "f.toml", .text = text}, diagnostics);
  ASSERT_TRUE(route) << to_line(diagnostics.front());
  const auto& zones = route->separations.front().zones;
  ASSERT_EQ(zones.size(), 3U);
  EXPECT_EQ(zones.front().supply, EnergySupply::ac_15kv);
  EXPECT_EQ(name_of(zones.back()), "DC 3 kV");
}

TEST(SeparationZones, AreUnknownWhereNoneAreStated) {
  Diagnostics diagnostics;
  const auto route =
      read_route({.file = "f.toml", .text = std::string(right_text(FileKind::route))}, diagnostics);
  ASSERT_TRUE(route);
  EXPECT_TRUE(route->separations.front().zones.empty());
}

}  // namespace

}  // namespace panup
