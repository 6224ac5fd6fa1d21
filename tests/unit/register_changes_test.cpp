#include <gtest/gtest.h>

#include <algorithm>

#include "register_rows/changes_report.h"
#include "register_rows/network_changes.h"
#include "register_rows/register_to_network.h"
#include "register_rows/table_mark.h"
#include "register_sample.h"

namespace panup {
namespace {

RegisterNetwork network_of(const RegisterRows& rows) {
  const RegisterRows separations{.file = "separations", .sha256 = {}, .rows = {}};
  Diagnostics mistakes;
  Diagnostics notes;
  auto made = network_from_register(rows, separations,
                                    {.id = "n",
                                     .name = "N",
                                     .track = {},
                                     .made_at = "now",
                                     .starts = {{"7", 0}},
                                     .no_other_separations = false},
                                    mistakes, notes);
  EXPECT_TRUE(made) << (mistakes.empty() ? "" : to_line(mistakes.front()));
  return made.value_or(RegisterNetwork{});
}

/// Two sections, the first with all that a section can have.
RegisterRows two_sections(Cells changes = {}) {
  RegisterRows rows{.file = "sections", .sha256 = {}, .rows = {}};
  add_section(rows, "1", "a", "b",
              {{"trainA", "700"},
               {"standstillA", "80"},
               {"heightMin", "5"},
               {"heightMax", "6"},
               {"tsiHead", concepts + "compliant-pantograph-heads/10"},
               {"strip", concepts + "contact-strip-materials/20"},
               {"metallic", "30"},
               {"force", "90 300"},
               {"limited", "false"},
               {"mtuDoc", "NT 12"},
               {"add", "true"},
               {"raisedN", "2"},
               {"raisedM", "20"},
               {"raisedKmh", "120"},
               {"gradient", "+2.0(0000.000)"}});
  add_section(rows, "2", "b", "c", changes);
  return rows;
}

NetworkChanges changes_between(const std::string& there, const RegisterRows& today) {
  Diagnostics mistakes;
  auto changes =
      network_changes({.file = "there", .text = there}, network_of(today).text, mistakes);
  EXPECT_TRUE(changes) << (mistakes.empty() ? "" : to_line(mistakes.front()));
  return changes.value_or(NetworkChanges{});
}

std::string replaced(std::string text, std::string_view old, std::string_view by) {
  const std::size_t at = text.find(old);
  EXPECT_NE(at, std::string::npos) << old;
  return text.replace(at, old.size(), by);
}

TEST(RegisterChanges, EveryKeyThatIsWrittenIsKnownAsOneOfAnImport) {
  Diagnostics mistakes;
  const auto root = parse_toml({.file = "n", .text = network_of(two_sections()).text}, mistakes);
  ASSERT_TRUE(root);
  std::size_t tables = 0;
  for (const TomlEntry& entry : std::get<TomlEntries>(root->value)) {
    if (const auto* const list = std::get_if<TomlArray>(&entry.node.value)) {
      for (const TomlNode& node : *list) {
        if (entry.key == "value_source") {
          continue;
        }
        ++tables;
        for (const TomlEntry& key : std::get<TomlEntries>(node.value)) {
          EXPECT_TRUE(std::ranges::count(keys_of_import(entry.key), key.key) == 1)
              << entry.key << " " << key.key;
        }
      }
    }
  }
  EXPECT_EQ(tables, 1U + 3U + 2U + 1U) << "a line, places, sections, a gradient";
}

TEST(RegisterChanges, TheSameAnswersDifferInNothing) {
  const NetworkChanges changes = changes_between(network_of(two_sections()).text, two_sections());
  EXPECT_TRUE(changes.tables.empty());
  EXPECT_TRUE(changes.says_how_made);
}

TEST(RegisterChanges, AWholeNumberIsTheSameWithAPointAndWithout) {
  const std::string there = replaced(network_of(two_sections()).text, "to_km = 10.0", "to_km = 10");
  EXPECT_TRUE(changes_between(there, two_sections()).tables.empty());
  EXPECT_TRUE(same_value({.value = std::int64_t{5}}, {.value = 5.0}));
  EXPECT_FALSE(same_value({.value = std::int64_t{5}}, {.value = 5.1}));
  EXPECT_FALSE(same_value({.value = std::string("5")}, {.value = std::int64_t{5}}));
}

TEST(RegisterChanges, WhatNobodyChangedIsTheRegisters) {
  const NetworkChanges changes =
      changes_between(network_of(two_sections()).text, two_sections({{"vmax", "80"}}));
  ASSERT_EQ(changes.tables.size(), 1U);
  ASSERT_EQ(changes.tables[0].keys.size(), 1U);
  EXPECT_EQ(changes.tables[0].keys[0].key, "line_speed_kmh");
  EXPECT_EQ(changes.tables[0].keys[0].by, StatedBy::the_register);
  EXPECT_FALSE(is_lost(changes.tables[0].keys[0]));
}

TEST(RegisterChanges, AKeyThatTheRegisterLeftBlankWasFilledInByHand) {
  const std::string there = replaced(network_of(two_sections()).text, "to_km = 10.0\n",
                                     "to_km = 10.0\nwire_height_min_m = 5.1\n");
  const NetworkChanges changes = changes_between(there, two_sections({{"vmax", "80"}}));
  ASSERT_EQ(changes.tables.size(), 1U);
  for (const KeyChange& key : changes.tables[0].keys) {
    EXPECT_EQ(key.by, key.key == "wire_height_min_m" ? StatedBy::somebody : StatedBy::the_register)
        << key.key;
  }
  EXPECT_EQ(changes.tables[0].keys.size(), 2U);
}

TEST(RegisterChanges, AMarkStandsInTheCommentRightAboveItsTableAndIsOfTheKeysOfToday) {
  const TomlEntries line{{.key = "id", .node = {.value = std::string("1")}}};
  const std::string mark = mark_line("line", line);
  const std::vector<std::string_view> bare{std::string_view(mark).substr(0, mark.size() - 1),
                                           "# and more", "[[line]]", "", "[[line]]"};
  EXPECT_EQ(mark_above(bare, 3, "line"), mark_of("line", line));
  EXPECT_EQ(mark_above(bare, 5, "line"), "") << "no comment stands right above it";
  EXPECT_EQ(mark_above(bare, 3, "section"), "") << "it is of other keys";
  EXPECT_EQ(mark_above(bare, 0, "line"), "");
}

TEST(RegisterChanges, AMarkTellsOfEachKeyWhetherItIsAsItWasMade) {
  const TomlEntries line{{.key = "id", .node = {.value = std::string("1")}}};
  const std::string mark = mark_of("line", line);
  const TomlNode other{.value = std::string("2")};
  EXPECT_EQ(as_made("line", mark, "id", &line[0].node), true);
  EXPECT_EQ(as_made("line", mark, "id", &other), false);
  EXPECT_EQ(as_made("line", mark, "id", nullptr), false) << "it was taken out";
  EXPECT_EQ(as_made("line", mark, "name", nullptr), true) << "it was never there";
  EXPECT_EQ(as_made("line", mark, "name", &other), false) << "it was filled in";
  EXPECT_EQ(as_made("line", mark, "colour", &other), std::nullopt) << "no import writes it";
  EXPECT_EQ(as_made("line", "", "id", &other), std::nullopt);
}

TEST(RegisterChanges, ASectionThatWasFilledInAndIsGoneIsLost) {
  const std::string there = replaced(network_of(two_sections()).text, "to_km = 10.0\n",
                                     "to_km = 10.0\nwire_height_min_m = 5.1\n");
  RegisterRows one = two_sections();
  one.rows.pop_back();
  const NetworkChanges changes = changes_between(there, one);
  const auto gone = std::ranges::find_if(changes.tables, [](const TableChange& change) {
    return change.table == "section" && change.fate == TableFate::gone;
  });
  ASSERT_NE(gone, changes.tables.end());
  EXPECT_TRUE(is_lost(*gone)) << "with what was filled in";
  const NetworkChanges bare = changes_between(network_of(two_sections()).text, one);
  EXPECT_TRUE(
      std::ranges::none_of(bare.tables, [](const TableChange& change) { return is_lost(change); }));
}

}  // namespace
}  // namespace panup
