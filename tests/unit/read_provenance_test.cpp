#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "files/kept_values.h"
#include "files/read_route.h"
#include "files/read_stock.h"

namespace panup {
namespace {

/// A route of two sections; `more` stands at its end.
std::string route_text(const std::string& root, const std::string& first,
                       const std::string& more = "") {
  return "kind = \"route\"\nid = \"r\"\nname = \"R\"\n" + root +
         "\n[profile.p]\nsystem = \"AC 15 kV 16.7 Hz\"\nsource = \"notice\"\n"
         "\n[[section]]\nid = \"a\"\nprofile = \"p\"\nfrom_km = 0\nto_km = 1\nline_speed_kmh = "
         "80\n" +
         first +
         "\n[[section]]\nid = \"b\"\nfrom_km = 1\nto_km = 2\nline_speed_kmh = 80\n"
         "\n[[value_source]]\nid = \"reg\"\nkind = \"register\"\nname = \"the register\"\n"
         "date = 2031-04-02\nquery = \"all\"\n"
         "\n[[value_source]]\nid = \"notice\"\nkind = \"document\"\nname = \"NT 12\"\n"
         "\n[[value_source]]\nid = \"hand\"\nkind = \"by hand\"\n" +
         more;
}

Route route_of(const std::string& text) {
  Diagnostics mistakes;
  auto route = read_route({.file = "r.toml", .text = text}, mistakes);
  for (const Diagnostic& mistake : mistakes) {
    ADD_FAILURE() << to_line(mistake);
  }
  return route.value_or(Route{});
}

std::vector<std::string> mistakes_in_route(const std::string& text) {
  Diagnostics mistakes;
  read_route({.file = "r.toml", .text = text}, mistakes);
  sort_by_place(mistakes);
  std::vector<std::string> lines;
  for (const Diagnostic& mistake : mistakes) {
    lines.push_back(to_line(mistake));
  }
  return lines;
}

TEST(Provenance, WhatStatesNoSourceHasNone) {
  const Route route = route_of(route_text("", ""));
  EXPECT_EQ(source_words(route.sections[1].provenance, "line_speed_kmh", {}), "");
}

TEST(Provenance, TheNearestSourceCounts) {
  const Route route =
      route_of(route_text("source = \"reg\"\n", "source_of = { line_speed_kmh = \"hand\" }\n"));
  const Provenance& a = route.sections[0].provenance;
  EXPECT_EQ(source_words(a, "line_speed_kmh", {}), "by hand");
  EXPECT_EQ(source_words(a, "to_km", {}), "register: the register, 2031-04-02, query of all");
  EXPECT_EQ(source_words(a, "system", {}), "document: NT 12") << "the profile states it";
  EXPECT_EQ(source_words(a, "to_km", built_in_words("de")),
            "Register: the register, 2031-04-02, Abfrage von all");
  EXPECT_EQ(source_words(route.sections[1].provenance, "to_km", {}),
            "register: the register, 2031-04-02, query of all");
}

TEST(Provenance, AProfilesKeyIsNoneOfTheSection) {
  EXPECT_EQ(
      mistakes_in_route(route_text("", "source_of = { system = \"hand\" }\n")),
      (std::vector<std::string>{
          "r.toml:15:15: there is no key 'system' in this table whose source this could be"}));
}

TEST(Provenance, AllMistakesAreToldAtOnce) {
  const auto mistakes = mistakes_in_route(
      route_text("source = \"rge\"\n", "source = 3\nsource_of = { line_speed_kmh = \"x\" }\n",
                 "query = \"q\"\nsha256 = \"AB\"\n[[value_source]]\nid = \"reg\"\nkind = "
                 "\"document\"\n"));
  ASSERT_EQ(mistakes.size(), 7U);
  EXPECT_EQ(mistakes[0], "r.toml:4:10: there is no [[value_source]] 'rge'; did you mean 'reg'?");
  EXPECT_NE(mistakes[1].find("'source' is a whole number"), std::string::npos) << mistakes[1];
  EXPECT_NE(mistakes[2].find("there is no [[value_source]] 'x'"), std::string::npos);
  EXPECT_NE(mistakes[3].find("is not queried"), std::string::npos);
  EXPECT_NE(mistakes[4].find("64 hexadecimal digits"), std::string::npos);
  EXPECT_NE(mistakes[5].find("key 'name' is missing"), std::string::npos);
  EXPECT_NE(mistakes[6].find("id 'reg' is used already"), std::string::npos);
}

TEST(Provenance, KeptIsWhatComesFromElsewhereAndNoNamesOrPlaces) {
  const std::vector<SourceKind> own{SourceKind::register_answer};
  const std::vector<std::string_view> lists{"section"};
  const auto identity = [](std::string_view, const TomlEntries& table) {
    return std::get<std::string>(table.front().node.value);
  };
  const std::string text = route_text("source = \"reg\"\n", "source = \"notice\"\n");
  auto kept = kept_values({.file = "r.toml", .text = text}, FileKind::route, own, lists, identity);
  ASSERT_EQ(kept.size(), 2U);
  EXPECT_EQ(kept[0].key, "profile");
  EXPECT_EQ(kept[1].key, "line_speed_kmh");
  EXPECT_EQ(kept[1].id, "a");
  EXPECT_EQ(kept[1].place.line, 15);
}

TEST(Provenance, WhatIsKeptTakesThePlaceOfWhatAnImportSays) {
  std::vector<KeptValue> kept{{.table = "section",
                               .id = "a",
                               .called = "a",
                               .key = "speed",
                               .value = {.value = std::int64_t{80}},
                               .source = {.id = "own", .kind = SourceKind::by_hand}},
                              {.table = "section",
                               .id = "gone",
                               .called = "gone",
                               .key = "speed",
                               .value = {.value = std::int64_t{70}},
                               .source = {.id = "x", .kind = SourceKind::document}}};
  EXPECT_EQ(sources_of(kept, {"own"}).front().id, "own-kept") << "the import has such a one";
  TomlEntries table{{.key = "speed", .node = {.value = 80.0}}};
  EXPECT_TRUE(take_over(kept, "section", "a", table).empty()) << "the import says the same";
  EXPECT_TRUE(kept[0].taken_over);
  EXPECT_FALSE(kept[1].taken_over);
  const auto& by_key = std::get<TomlEntries>(table.back().node.value);
  EXPECT_EQ(std::get<std::string>(by_key.front().node.value), "own-kept");
  TomlEntries other{{.key = "speed", .node = {.value = 90.0}}};
  ASSERT_EQ(take_over(kept, "section", "a", other).size(), 1U);
  EXPECT_EQ(kept_words(kept[0], "the register"),
            "'speed' is 80 (by hand), the register states 90.0");
  EXPECT_TRUE(take_over(kept, "separation", "a", other).empty()) << "of another list";
}

}  // namespace
}  // namespace panup
