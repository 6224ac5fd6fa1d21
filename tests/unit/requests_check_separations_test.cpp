/// What `panup check` says of the separation sections of a route for the vehicles of a stock.

#include <gtest/gtest.h>

#include <limits>

#include "requests/check_separations.h"

namespace panup {
namespace {

constexpr double nowhere = std::numeric_limits<double>::infinity();

/// A locomotive of 19 m with pantographs 4.5 and 14.5 m from cab 1; strips over 0.6 m.
Stock stock_of(const std::vector<std::string>& ids) {
  auto pantograph = std::make_shared<PantographType>();
  pantograph->id = "p";
  pantograph->strip_length_along_track_mm = 600;
  Stock stock;
  stock.pantographs = {pantograph};
  for (const std::string& id : ids) {
    auto type = std::make_shared<VehicleType>();
    type->id = id;
    type->length_m = 19;
    type->pantographs.resize(2);
    type->pantographs[0] = {.number = 1, .from_cab1_m = 4.5, .type = pantograph};
    type->pantographs[1] = {.number = 2, .from_cab1_m = 14.5, .type = pantograph};
    stock.vehicles.push_back(type);
  }
  return stock;
}

SeparationZone zone(ZoneKind kind, double from_m, double to_m, const char* phase = "") {
  return {.kind = kind, .from_m = from_m, .to_m = to_m, .phase = phase, .supply = {}, .place = {}};
}

Route route_with(double length_m, LengthMeaning meaning, bool zones) {
  SeparationSection section;
  section.name = "Skarn";
  section.from_km = 5;
  section.length_m = length_m;
  section.length_meaning = meaning;
  if (zones) {
    section.zones = {zone(ZoneKind::live, -nowhere, 0, "R"),
                     zone(ZoneKind::neutral, -3, length_m + 3),
                     zone(ZoneKind::live, length_m, nowhere, "S")};
  }
  Route route;
  route.separations = {section};
  return route;
}

TEST(CheckSeparations, TheDistancesThatPassAreToldByTheZones) {
  const std::string told =
      separation_remark(route_with(120, LengthMeaning::not_stated, true), stock_of({}), 0.8);
  EXPECT_NE(told.find("Skarn at km 5.000"), std::string::npos) << told;
  // Without stock no strips are known; with it theirs.
  const std::string with =
      separation_remark(route_with(120, LengthMeaning::not_stated, true), stock_of({"K"}), 0.8);
  EXPECT_NE(
      with.find("only less than 119.40 m or more than 126.60 m apart, with strips over 0.6 m"),
      std::string::npos)
      << with;
  EXPECT_EQ(with.find("no double heading"), std::string::npos)
      << "all of its distances are less than 119.4 m";
}

TEST(CheckSeparations, ADoubleHeadingThatNoChoiceOfPantographsBringsThroughIsNamed) {
  // Raised pantographs of two such locomotives stand 9 to 29 m apart: all of that is between the
  // overlaps of a neutral zone of 19 m with 11 m of overlap at either end.
  Route route = route_with(19, LengthMeaning::not_stated, true);
  route.separations[0].zones[1].from_m = -11;
  route.separations[0].zones[1].to_m = 30;
  const std::string told = separation_remark(route, stock_of({"K"}), 0.8);
  EXPECT_NE(told.find("less than 18.40 m or more than 41.60 m"), std::string::npos) << told;
  EXPECT_EQ(told.find("no double heading"), std::string::npos) << "9 m apart they pass";
  route.separations[0].length_meaning = LengthMeaning::minimum_between_inner;
  const std::string also = separation_remark(route, stock_of({"K"}), 0.8);
  EXPECT_NE(also.find("no double heading passes it with both up of K with K"), std::string::npos)
      << "not more than 19 m between inner strips and less than 18.4 m at once: " << also;
}

TEST(CheckSeparations, WhereOnlyTheLengthIsStatedItIsToldAsItIsMeant) {
  const std::string most = separation_remark(
      route_with(9, LengthMeaning::maximum_between_outer, false), stock_of({"K"}), 0.8);
  EXPECT_NE(most.find("less than 9 m apart between outer strips"), std::string::npos) << most;
  EXPECT_NE(most.find("no double heading"), std::string::npos) << most;
  const std::string unknown =
      separation_remark(route_with(9, LengthMeaning::not_stated, false), stock_of({"K"}), 0.8);
  EXPECT_NE(unknown.find("needs consent"), std::string::npos) << unknown;
  EXPECT_EQ(unknown.find("no double heading"), std::string::npos) << unknown;
}

TEST(CheckSeparations, OneThatIsPassedWithPantographsDownRulesNothingOut) {
  Route route = route_with(9, LengthMeaning::maximum_between_outer, false);
  route.separations[0].pantograph_lowered = true;
  EXPECT_EQ(separation_remark(route, stock_of({"K"}), 0.8), "");
}

}  // namespace
}  // namespace panup
