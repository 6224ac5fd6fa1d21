/// What a way through a network is as a route: by hand, on a network of two lines that meet.

#include "line/compose_route.h"

#include <gtest/gtest.h>

#include <cmath>

#include "files/read_network.h"
#include "input_texts.h"
#include "network_texts.h"

namespace panup {
namespace {

Network network_of(std::string_view text = right_network) {
  Diagnostics said;
  auto network = read_network({.file = "n.toml", .text = std::string(text)}, said);
  EXPECT_TRUE(network) << lines_of(said);
  return network.value_or(Network{});
}

NetworkWay way(const std::string& from,
               const std::vector<std::pair<std::string, std::string>>& legs) {
  NetworkWay way{.id = "w",
                 .name = "W",
                 .from = from,
                 .legs = {},
                 .from_place = {.file = "r.toml", .line = 1, .column = 1},
                 .place = {.file = "r.toml", .line = 1, .column = 1}};
  int line = 1;
  for (const auto& [along, to] : legs) {
    ++line;
    way.legs.push_back({.line = along,
                        .to = to,
                        .line_place = {.file = "r.toml", .line = line, .column = 1},
                        .to_place = {.file = "r.toml", .line = line, .column = 9}});
  }
  return way;
}

WayStop stop(const std::string& at, bool reversal = false, double length_m = 0) {
  return {.at = at,
          .reversal = reversal,
          .new_front_behind_m = length_m,
          .place = {.file = "r.toml", .line = 20, .column = 6}};
}

Route composed(const NetworkWay& way, const std::vector<WayStop>& stops = {},
               std::string_view text = right_network) {
  Diagnostics said;
  const auto made = compose_route(network_of(text), way, stops, said);
  EXPECT_TRUE(made) << lines_of(said);
  return made ? made->route : Route{};
}

std::string said_of(const NetworkWay& way, const std::vector<WayStop>& stops = {},
                    std::string_view text = right_network) {
  Diagnostics said;
  EXPECT_FALSE(compose_route(network_of(text), way, stops, said));
  return lines_of(said);
}

TEST(AComposedRoute, AlongOneLineHasItsKilometres) {
  const Route route = composed(way("harl", {{"1", "norra"}}), {stop("orr"), stop("mosk")});
  EXPECT_EQ(route.sections.front().from_km, 10);
  EXPECT_EQ(route.sections.back().to_km, 40);
  ASSERT_EQ(route.stops.size(), 2U);
  EXPECT_EQ(route.stops[0].at_km, 22);
  EXPECT_FALSE(place_on_line(route, 22)) << "the chainage is what the posts read";
  EXPECT_TRUE(stretches_on_lines(route, 10, 40).empty());
  ASSERT_EQ(route.landmarks.size(), 3U) << "that of the other direction is left out";
  EXPECT_EQ(route.landmarks[0].name, "Orr tunnel");
  EXPECT_EQ(route.landmarks[1].name, "Orr board");
  EXPECT_EQ(route.gradients.at(0).permille, 4);
  EXPECT_EQ(route.separations.at(0).from_km, 20);
}

TEST(AComposedRoute, AgainstTheKilometresIsTurnedRound) {
  const Route route = composed(way("norra", {{"1", "harl"}}));
  EXPECT_EQ(route.sections.front().from_km, 0);
  EXPECT_EQ(route.sections.front().id, "a2");
  EXPECT_EQ(route.sections.back().to_km, 30);
  EXPECT_EQ(route.sections.back().spans.at(0).stagger_m, (std::array<double, 2>{-0.2, 0.3}));
  EXPECT_EQ(route.gradients.at(0).from_km, 15);
  EXPECT_EQ(route.gradients.at(0).to_km, 25);
  EXPECT_EQ(route.gradients.at(0).permille, -4);
  EXPECT_NEAR(route.low_places.at(0).from_km, 6.9, 1e-9);
  EXPECT_EQ(route.section_insulators.at(0).at_km, 11);
  ASSERT_EQ(route.landmarks.size(), 2U);
  EXPECT_EQ(route.landmarks[0].name, "Orr board, other side");
  EXPECT_NEAR(route.landmarks[0].at_km, 19.4, 1e-9);
  const SeparationSection& separation = route.separations.at(0);
  EXPECT_NEAR(separation.from_km, 19.9, 1e-9) << "it begins where it ended: km 20.1";
  ASSERT_EQ(separation.zones.size(), 3U);
  EXPECT_EQ(separation.zones[0].phase, "S");
  EXPECT_TRUE(std::isinf(separation.zones[0].from_m));
  EXPECT_NEAR(separation.zones[0].to_m, 15, 1e-9);
  EXPECT_NEAR(separation.zones[1].from_m, 10, 1e-9);
  EXPECT_NEAR(separation.zones[1].to_m, 110, 1e-9);
  EXPECT_EQ(separation.zones[2].phase, "R");
  EXPECT_NEAR(separation.zones[2].from_m, 103, 1e-9);
  const auto post = place_on_line(route, 12.5);
  ASSERT_TRUE(post);
  EXPECT_EQ(post->line, "1");
  EXPECT_EQ(post->at_km, 27.5);
}

TEST(AComposedRoute, GoesFromLineToLine) {
  const Route route = composed(way("harl", {{"1", "mosk"}, {"3", "varn"}}), {stop("mosk")});
  EXPECT_EQ(route.sections.front().from_km, 0) << "two lines: the chainage is of neither";
  EXPECT_EQ(route.sections.back().to_km, 28);
  EXPECT_EQ(route.stops.at(0).at_km, 20);
  EXPECT_EQ(place_on_line(route, 20)->line, "1") << "by the posts that the train comes by";
  EXPECT_EQ(place_on_line(route, 20.5)->line, "3");
  EXPECT_EQ(place_on_line(route, 20.5)->at_km, 7.5);
  EXPECT_EQ(stretches_on_lines(route, 5, 21),
            (std::vector<LineStretch>{{"1", 15, 30}, {"3", 8, 7}}));
  EXPECT_NEAR(route.lowered.at(0).from_km, 24.8, 1e-9);
}

TEST(AComposedRoute, TurnsBackWithItsNewFrontWhereTheRearWas) {
  const Route route =
      composed(way("harl", {{"1", "mosk"}, {"1", "harl"}}), {stop("mosk", true, 400)});
  EXPECT_EQ(route.stops.at(0).at_km, 20);
  EXPECT_TRUE(route.stops.at(0).reversal);
  EXPECT_EQ(place_on_line(route, 21)->at_km, 28.6);
  EXPECT_NEAR(route.sections.back().to_km, 39.6, 1e-9);
  ASSERT_EQ(route.separations.size(), 2U);
  EXPECT_EQ(route.separations[1].name, "Orr phase separation (second time)");
  ASSERT_EQ(route.landmarks.size(), 5U);
  EXPECT_EQ(route.landmarks[3].board_of, "Orr phase separation (second time)");
}

TEST(AComposedRoute, LeavesByAnotherLineWhereTheyJoin) {
  const Route route =
      composed(way("norra", {{"1", "mosk"}, {"3", "varn"}}), {stop("mosk", true, 400)});
  EXPECT_EQ(route.stops.at(0).at_km, 10);
  EXPECT_EQ(place_on_line(route, 11)->at_km, 7);
}

TEST(AComposedRoute, KnowsWhereAskedStopsLie) {
  Diagnostics said;
  WayStop passed = stop("mosk");
  passed.passes = true;
  const auto made = compose_route(network_of(), way("harl", {{"1", "norra"}}),
                                  {stop("harl"), stop("orr"), passed, stop("norra")}, said);
  ASSERT_TRUE(made);
  EXPECT_EQ(made->stop_kms, (std::vector<double>{10, 22, 30, 40}));
  ASSERT_EQ(made->route.stops.size(), 1U) << "departure, arrival and what is passed are no stops";
  EXPECT_EQ(made->route.stops[0].name, "Orr");
}

TEST(AWayThatIsNone, IsSaidAtItsPlace) {
  EXPECT_EQ(said_of(way("hrl", {{"1", "norra"}})),
            "r.toml:1:1: network 'nordvale' has no place 'hrl'; did you mean 'harl'?\n");
  EXPECT_EQ(said_of(way("harl", {{"11", "norra"}})),
            "r.toml:2:1: network 'nordvale' has no line '11'; did you mean '1'?\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "varn"}})),
            "r.toml:2:9: 'Varn' does not lie on line '1'; it lies on '3' at km 0\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "norra"}, {"3", "varn"}})),
            "r.toml:3:1: 'Norra' does not lie on line '3'; it lies on '1' at km 40\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "harl"}})),
            "r.toml:2:9: 'Harl' is where this part of the way begins\n");
  EXPECT_EQ(said_of(way("harl", {})), "r.toml:1:1: the way has no part: it leads nowhere\n");
}

TEST(AStopThatIsNone, IsSaidAtItsPlace) {
  EXPECT_EQ(said_of(way("harl", {{"1", "norra"}}), {stop("mosk"), stop("orr")}),
            "r.toml:20:6: 'Orr' does not lie on the way behind 'Mosk'\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "norra"}}), {stop("varn")}),
            "r.toml:20:6: 'Varn' does not lie on the way\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "norra"}}), {stop("orr", true)}),
            "r.toml:20:6: the train cannot leave 'Orr' in the other direction: the way neither "
            "turns back there nor leaves by another line\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "norra"}}), {stop("orr"), stop("orr")}),
            "r.toml:20:6: 'Orr' is at the same place as 'Orr'\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "mosk"}, {"1", "harl"}})),
            "r.toml:3:9: the way turns back at 'Mosk': the train needs a stop there with 'reversal "
            "= true'\n");
  EXPECT_EQ(
      said_of(way("orr", {{"1", "mosk"}, {"1", "orr"}}), {stop("mosk", true, 9000)}),
      "r.toml:20:6: the train is 9000 m long and stands beyond the end of its way back, km 22 "
      "of line '1'\n");
}

TEST(AWay, CannotBeginOrEndWithinASeparationSection) {
  const std::string text =
      replaced(right_network, "{ line = \"1\", at_km = 22 }", "{ line = \"1\", at_km = 20.05 }");
  EXPECT_EQ(said_of(way("orr", {{"1", "norra"}}), {}, text),
            "r.toml:1:1: 'Orr phase separation', km 20 to 20.1 of line '1', is passed in part: the "
            "way along the line begins in it, at km 20.05\n");
  EXPECT_EQ(said_of(way("harl", {{"1", "orr"}}), {}, text),
            "r.toml:2:9: 'Orr phase separation', km 20 to 20.1 of line '1', is passed in part: the "
            "way leaves the line in it, at km 20.05\n");
}

TEST(AWay, ChangesTheSystemOnlyWithinASystemSeparation) {
  std::string text = replaced(right_network, "id = \"c1\"\nline = \"3\"\n",
                              "id = \"c1\"\nline = \"3\"\nsystem = \"DC 3 kV\"\n");
  EXPECT_EQ(
      said_of(way("harl", {{"1", "mosk"}, {"3", "varn"}}), {}, text),
      "r.toml:3:1: the energy supply system changes from AC 15 kV 16.7 Hz on line '1' to DC 3 "
      "kV on line '3' at 'Mosk', but there is no system separation section there\n");
  text += R"(
[[separation]]
line = "3"
name = "Mosk system separation"
type = "system"
from_km = 7.8
length_m = 200
pantograph_lowered = true
breaker_off = true
)";
  EXPECT_EQ(composed(way("harl", {{"1", "mosk"}, {"3", "varn"}}), {}, text).separations.size(), 2U);
}

TEST(AStop, CannotLieWhereAllPantographsAreDown) {
  std::string text(right_network);
  text += "\n[[place]]\nid = \"works\"\non = [{ line = \"3\", at_km = 3.1 }]\n";
  EXPECT_EQ(said_of(way("mosk", {{"3", "varn"}}), {stop("works")}, text),
            "r.toml:20:6: 'works' lies within 'Works', which is passed with pantographs down: the "
            "train could not start\n");
}

}  // namespace
}  // namespace panup
