/// The day in a network: what of it lies on a way, and holds when the train is there.

#include "line/network_conditions.h"

#include <gtest/gtest.h>

#include "files/read_conditions.h"
#include "files/read_network.h"
#include "input_texts.h"
#include "line/compose_route.h"
#include "network_texts.h"

namespace panup {
namespace {

constexpr int minute = 60;
constexpr int hour = 3600;

struct OnTheWay {
  Route route;
  std::optional<Conditions> day;
  std::string said;
};

/// Harl – Mosk by line 1 up, Mosk – Varn by line 3 down: km 0 to 20 and 20 to 28.
OnTheWay on_the_way(const std::string& text, const std::vector<TimeAtKm>& times = {},
                    bool back = false) {
  Diagnostics said;
  const auto network = read_network({.file = "n.toml", .text = std::string(right_network)}, said);
  NetworkWay way{.id = "w",
                 .name = "W",
                 .from = back ? "varn" : "harl",
                 .legs = {},
                 .from_place = {},
                 .place = {}};
  const auto leg = [](const char* line, const char* to) {
    return WayLeg{.line = line, .to = to, .line_place = {}, .to_place = {}};
  };
  way.legs = back ? std::vector<WayLeg>{leg("3", "mosk"), leg("1", "harl")}
                  : std::vector<WayLeg>{leg("1", "mosk"), leg("3", "varn")};
  auto composed = compose_route(*network, way, {}, said);
  OnTheWay out{.route = composed->route, .day = {}, .said = {}};
  const auto stated = read_network_conditions(
      {.file = "c.toml", .text = "kind = \"conditions\"\nname = \"Day\"\n" + text}, &*network,
      said);
  if (stated) {
    out.day = conditions_on(*stated, *network, out.route, times, 200, said);
  }
  out.said = lines_of(said);
  return out;
}

std::vector<std::pair<double, double>> ice_on(const OnTheWay& way) {
  std::vector<std::pair<double, double>> ice;
  for (const IceStretch& stretch : way.day ? way.day->ice : std::vector<IceStretch>{}) {
    ice.emplace_back(stretch.from_km, stretch.to_km);
  }
  return ice;
}

using Kms = std::vector<std::pair<double, double>>;

TEST(IceInANetwork, LiesOnTheKilometresOfItsLine) {
  const std::string text = "ice = [{ line = \"3\", from_km = 2, to_km = 5 }]\n";
  EXPECT_EQ(ice_on(on_the_way(text)), (Kms{{23, 26}}));
  EXPECT_EQ(ice_on(on_the_way(text, {}, true)), (Kms{{2, 5}}));
  EXPECT_EQ(ice_on(on_the_way("ice = [{ line = \"1\", from_km = 32, to_km = 35 }]\n")), Kms{})
      << "km 32 to 35 of a line are no part of the way, whatever its own kilometres are";
  EXPECT_EQ(ice_on(on_the_way("ice = [{ line = \"1\" }]\n")), (Kms{{0, 20}}));
  EXPECT_EQ(ice_on(on_the_way("ice = \"everywhere\"\n")), (Kms{{0, 28}}));
}

TEST(IceInANetwork, LiesOnSectionsAndRegions) {
  EXPECT_EQ(ice_on(on_the_way("ice = [{ section = \"c1\" }]\n")), (Kms{{20, 28}}));
  EXPECT_EQ(ice_on(on_the_way("ice = [{ region = \"upland\" }]\n")), (Kms{{20, 28}}));
  EXPECT_EQ(ice_on(on_the_way("ice = [{ section = \"a1\" }, { region = \"upland\" }]\n")),
            (Kms{{0, 28}}));
}

TEST(LocalWeather, CutsTheSectionsAndHoldsOnThem) {
  const OnTheWay way = on_the_way(
      "wind_ms = 5\n[[local]]\nline = \"1\"\nfrom_km = 18\nto_km = 22\nwind_ms = 17\n"
      "[[local]]\nline = \"1\"\nfrom_km = 20\nto_km = 24\nwind_ms = 14\ntemperature_c = -3\n");
  ASSERT_TRUE(way.day) << way.said;
  ASSERT_EQ(way.route.sections.size(), 6U);
  EXPECT_FALSE(way.route.sections[0].wind_ms) << "that of the whole day";
  EXPECT_EQ(way.route.sections[1].from_km, 8);
  EXPECT_EQ(way.route.sections[1].wind_ms, 17);
  EXPECT_EQ(way.route.sections[2].wind_ms, 17) << "the stronger of two";
  EXPECT_EQ(way.route.sections[2].temperature_c, -3);
  EXPECT_EQ(way.route.sections[3].wind_ms, 14);
  EXPECT_FALSE(way.route.sections[4].wind_ms);
  EXPECT_EQ(way.route.sections[2].line_from_km, 20);
  EXPECT_EQ(way.route.sections[2].line_to_km, 22);
  ASSERT_EQ(way.day->local.size(), 3U);
  EXPECT_EQ(way.day->local[0].from_km, 8);
  EXPECT_EQ(way.day->local[2].to_km, 14);
}

TEST(LocalWeather, AgainstTheKilometresIsTurnedRound) {
  const OnTheWay way =
      on_the_way("[[local]]\nline = \"1\"\nfrom_km = 18\nto_km = 22\nwind_ms = 17\n", {}, true);
  ASSERT_EQ(way.route.sections.size(), 4U);
  EXPECT_EQ(way.route.sections[2].from_km, 16);
  EXPECT_EQ(way.route.sections[2].to_km, 20);
  EXPECT_EQ(way.route.sections[2].line_from_km, 22);
  EXPECT_EQ(way.route.sections[2].line_to_km, 18);
}

TEST(LocalWeather, OfTwoTemperaturesAtOnePlaceIsAMistake) {
  const std::string two =
      "[[local]]\nsection = \"a1\"\ntemperature_c = -3\nuntil = 09:00:00\n"
      "[[local]]\nsection = \"a1\"\ntemperature_c = 4\nfrom = 09:00:00\n";
  EXPECT_EQ(on_the_way(two).said,
            "c.toml:7:1: 4 °C here, and -3 °C by line 3 of this file, may both hold on section "
            "'a1' when the train is there: state one of them for it\n");
  const OnTheWay early = on_the_way(two, {{0, {}, 7 * hour}, {28, 8 * hour, {}}});
  ASSERT_TRUE(early.day) << early.said;
  EXPECT_EQ(early.route.sections[0].temperature_c, -3);
  ASSERT_EQ(early.day->notes.size(), 1U);
  EXPECT_NE(early.day->notes[0].find("4 °C, from 09:00"), std::string::npos);
}

TEST(ConditionsByTime, HoldWhereTheTimesOfTheTrainAreNotKnown) {
  const std::string text = "ice = [{ section = \"c1\", from = 06:00:00, until = 08:00:00 }]\n";
  EXPECT_EQ(ice_on(on_the_way(text)), (Kms{{20, 28}}));
  EXPECT_EQ(ice_on(on_the_way(text, {{0, {}, 9 * hour}})), (Kms{{20, 28}}))
      << "when it arrives is not known: it may be the next morning";
}

TEST(ConditionsByTime, HoldWhileTheTrainMayBeThere) {
  const std::string until = "ice = [{ section = \"c1\", until = 08:00:00 }]\n";
  // 20 km at 100 km/h at the fastest: 12 minutes.
  EXPECT_EQ(ice_on(on_the_way(until, {{0, {}, 8 * hour - 12 * minute}})), (Kms{{20, 28}}));
  EXPECT_EQ(ice_on(on_the_way(until, {{0, {}, 8 * hour - 11 * minute}})), Kms{});
  const std::string from = "ice = [{ section = \"a1\", from = 08:00:00 }]\n";
  EXPECT_EQ(ice_on(on_the_way(from, {{0, {}, 7 * hour}, {28, 8 * hour, {}}})), (Kms{{0, 20}}));
  EXPECT_EQ(ice_on(on_the_way(from, {{0, {}, 7 * hour}, {28, 8 * hour - 1, {}}})), Kms{});
  EXPECT_EQ(ice_on(on_the_way(from, {{0, {}, 7 * hour}, {20.1, 8 * hour - 1, {}}})), (Kms{{0, 20}}))
      << "its rear is still there";
}

TEST(ConditionsByTime, GoOnOverMidnight) {
  EXPECT_TRUE(may_hold(22 * hour, 5 * hour, {.earliest_s = 23 * hour, .latest_s = 24 * hour}));
  EXPECT_TRUE(may_hold(22 * hour, 5 * hour, {.earliest_s = 27 * hour, .latest_s = 28 * hour}));
  EXPECT_TRUE(may_hold(22 * hour, 5 * hour, {.earliest_s = 2 * hour, .latest_s = 3 * hour}));
  EXPECT_FALSE(may_hold(22 * hour, 5 * hour, {.earliest_s = 6 * hour, .latest_s = 21 * hour}));
  EXPECT_TRUE(may_hold(1 * hour, 2 * hour, {.earliest_s = 25 * hour, .latest_s = 25 * hour}));
  EXPECT_FALSE(may_hold(1 * hour, 2 * hour, {.earliest_s = 27 * hour, .latest_s = 28 * hour}));
}

TEST(ConditionsForANetwork, SayWhatIsWrong) {
  EXPECT_EQ(on_the_way("ice = [{ from_km = 4, to_km = 6 }]\n").said,
            "c.toml:3:8: kilometres of a route say nothing in a network, where every line has its "
            "own: state whose they are, as in line = \"7\"; or a 'section' or 'region'\n");
  EXPECT_EQ(on_the_way("ice = [{ line = \"2\" }]\n").said,
            "c.toml:3:17: network 'nordvale': there is no line '2'\n");
  EXPECT_EQ(on_the_way("ice = [{ region = \"uplands\" }]\n").said,
            "c.toml:3:19: network 'nordvale': there is no region 'uplands'; did you mean "
            "'upland'?\n");
  EXPECT_EQ(on_the_way("ice = [{ line = \"1\", section = \"a1\" }]\n").said,
            "c.toml:3:8: it lies on a 'line', in a 'section' or in a 'region': state one\n");
  EXPECT_EQ(on_the_way("[[local]]\nsection = \"a1\"\n").said,
            "c.toml:3:1: it says a place and no weather: state 'ice', 'temperature_c' or "
            "'wind_ms'\n");
  EXPECT_EQ(on_the_way("[[local]]\nwind_ms = 12\n").said,
            "c.toml:3:1: it does not say where: state 'line', 'section' or 'region'\n");
  EXPECT_EQ(on_the_way("ice = [{ line = \"1\", from_km = 20, to_km = 18 }]\n").said,
            "c.toml:3:44: it ends at km 18, before it begins at km 20\n");
}

TEST(ConditionsForANetwork, AreAMistakeWithARouteFile) {
  const auto said = [](const std::string& text) {
    Diagnostics diagnostics;
    const SourceText source{.file = "c.toml",
                            .text = "kind = \"conditions\"\nname = \"Day\"\n" + text};
    EXPECT_TRUE(is_for_networks(source));
    EXPECT_FALSE(read_conditions(source, nullptr, diagnostics));
    return lines_of(diagnostics);
  };
  EXPECT_EQ(said("ice = [{ line = \"1\", from_km = 1, to_km = 2 }]\n"),
            "c.toml:3:17: 'line' is for runs through a network; for a route file, state ice by its "
            "kilometres or sections, and one wind and one temperature\n");
  EXPECT_EQ(said("[[local]]\nsection = \"a1\"\nwind_ms = 4\n"),
            "c.toml:3:1: 'local' is for runs through a network; for a route file, state ice by its "
            "kilometres or sections, and one wind and one temperature\n");
}

}  // namespace
}  // namespace panup
