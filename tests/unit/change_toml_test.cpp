#include "base/change_toml.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <random>

#include "base/write_toml.h"
#include "files/read_conditions.h"

namespace panup {
namespace {

TomlNode value_of(
    std::variant<bool, std::int64_t, double, std::string, TomlDate, TomlArray, TomlEntries> value) {
  TomlNode node{};
  node.value = std::move(value);
  return node;
}

TomlNode whole_of(std::int64_t value) { return value_of(value); }
TomlNode text_of(std::string value) { return value_of(std::move(value)); }

/// The text with a value changed; what was said where it was refused.
std::string changed(const std::string& text, TomlPath at, std::optional<TomlNode> to,
                    TomlLayout layout = TomlLayout::under_headers) {
  Diagnostics diagnostics;
  auto now = change_toml({.file = "f", .text = text},
                         {.at = std::move(at), .to = std::move(to), .layout = layout}, diagnostics);
  return now ? *now : "refused: " + (diagnostics.empty() ? "" : to_line(diagnostics.front()));
}

const std::string winter = R"(# A cold day.
kind = "conditions"   # what it is
name = "Frost"
wind_ms = 4           # from the mast at Orr

# Where the hoar frost was seen.
ice = [
  { section = "a3" },           # by the driver of 60412
  { from_km = 1, to_km = 2.5 }, # by hand
]
)";

TEST(ChangeToml, ChangesTheValueAndLeavesTheCommentInItsColumn) {
  std::string expected = winter;
  expected.replace(expected.find("wind_ms = 4           #"), 23, "wind_ms = 12.5        #");
  EXPECT_EQ(changed(winter, {"wind_ms"}, value_of(12.5)), expected);
}

TEST(ChangeToml, ChangesAValueInATableOfOneLine) {
  std::string expected = winter;
  expected.replace(expected.find("to_km = 2.5"), 11, "to_km = 30");
  EXPECT_EQ(changed(winter, {"ice", 1U, "to_km"}, whole_of(30)), expected);
}

TEST(ChangeToml, PutsANewKeyBehindTheLastOneOfItsTable) {
  std::string expected = winter + "temperature_c = -6\n";
  EXPECT_EQ(changed(winter, {"temperature_c"}, whole_of(-6)), expected);
  EXPECT_EQ(changed("a = 1\n\n[t]\nb = 2\n\n[u]\nc = 3\n", {"t", "d"}, whole_of(4)),
            "a = 1\n\n[t]\nb = 2\nd = 4\n\n[u]\nc = 3\n");
  EXPECT_EQ(changed("a = 1\n\n[t]\n\n[u]\nc = 3\n", {"e"}, whole_of(4)),
            "a = 1\ne = 4\n\n[t]\n\n[u]\nc = 3\n");
  EXPECT_EQ(changed("[t] # empty\n[u]\n", {"t", "d"}, whole_of(4)), "[t] # empty\nd = 4\n[u]\n");
}

TEST(ChangeToml, TakesOutTheLineOfAKeyAndNothingElse) {
  std::string expected = winter;
  const std::string line = "wind_ms = 4           # from the mast at Orr\n";
  expected.erase(expected.find(line), line.size());
  EXPECT_EQ(changed(winter, {"wind_ms"}, std::nullopt), expected);
  EXPECT_EQ(changed(winter, {"temperature_c"}, std::nullopt), winter) << "what is not there";
}

TEST(ChangeToml, AddsToAListOnLinesOfItsOwnAndTakesLinesOut) {
  std::string expected = winter;
  expected.insert(expected.rfind(']'), "  { section = \"b1\" },\n");
  EXPECT_EQ(changed(winter, {"ice", 2U},
                    value_of(TomlEntries{{.key = "section", .node = text_of("b1")}})),
            expected);
  const std::string line = "  { section = \"a3\" },           # by the driver of 60412\n";
  expected = winter;
  expected.erase(expected.find(line), line.size());
  EXPECT_EQ(changed(winter, {"ice", 0U}, std::nullopt), expected);
}

TEST(ChangeToml, AddsToAListWithoutAComma) {
  EXPECT_EQ(changed("a = [\n  1, # one\n  2  # two\n]\n", {"a", 2U}, whole_of(3)),
            "a = [\n  1, # one\n  2,  # two\n  3\n]\n");
  EXPECT_EQ(changed("a = [1, 2]\n", {"a", 2U}, whole_of(3)), "a = [1, 2, 3]\n");
  EXPECT_EQ(changed("a = [1, 2,]\n", {"a", 2U}, whole_of(3)), "a = [1, 2, 3]\n");
  EXPECT_EQ(changed("a = [ ]\n", {"a", 0U}, whole_of(3)), "a = [3 ]\n");
}

TEST(ChangeToml, TakesPartsOutOfLists) {
  EXPECT_EQ(changed("a = [1, 2, 3]\n", {"a", 0U}, std::nullopt), "a = [2, 3]\n");
  EXPECT_EQ(changed("a = [1, 2, 3]\n", {"a", 1U}, std::nullopt), "a = [1, 3]\n");
  EXPECT_EQ(changed("a = [1, 2, 3]\n", {"a", 2U}, std::nullopt), "a = [1, 2]\n");
  EXPECT_EQ(changed("a = [\n  1,\n  2 # last, truly\n]\n", {"a", 1U}, std::nullopt),
            "a = [\n  1,\n]\n");
  EXPECT_EQ(changed("a = { b = 1, c = 2 }\n", {"a", "b"}, std::nullopt), "a = { c = 2 }\n");
  EXPECT_EQ(changed("a = { b = 1, c = 2 }\n", {"a", "c"}, std::nullopt), "a = { b = 1 }\n");
  EXPECT_EQ(changed("a = [1]\nb = 2\n", {"a", 0U}, std::nullopt), "b = 2\n")
      << "with its last value a list goes";
}

TEST(ChangeToml, KnowsWhichEntryOfAListOfTablesIsMeant) {
  const std::string train =
      "[[consist]]   # the first\nid = \"one\"\n\n[[consist.current]]\nrunning_a = 1\n\n"
      "[[consist]]\nid = \"two\"\n";
  EXPECT_EQ(changed(train, {"consist", 1U, "id"}, text_of("three")),
            "[[consist]]   # the first\nid = \"one\"\n\n[[consist.current]]\nrunning_a = 1\n\n"
            "[[consist]]\nid = \"three\"\n");
  EXPECT_EQ(changed(train, {"consist", 0U, "current", 1U},
                    value_of(TomlEntries{{.key = "running_a", .node = whole_of(2)}})),
            "[[consist]]   # the first\nid = \"one\"\n\n[[consist.current]]\nrunning_a = 1\n\n"
            "[[consist.current]]\nrunning_a = 2\n\n[[consist]]\nid = \"two\"\n");
  EXPECT_EQ(changed(train, {"consist", 1U, "current", 0U, "running_a"}, whole_of(7)),
            train + "\n[[consist.current]]\nrunning_a = 7\n");
  EXPECT_EQ(changed(train, {"consist", 0U}, std::nullopt), "[[consist]]\nid = \"two\"\n");
  EXPECT_EQ(changed(train, {"consist", 0U, "current", 0U}, std::nullopt),
            "[[consist]]   # the first\nid = \"one\"\n\n[[consist]]\nid = \"two\"\n");
}

TEST(ChangeToml, WritesANewListAsItsKindOfFileHasIt) {
  const TomlNode ice =
      value_of(TomlArray{value_of(TomlEntries{{.key = "section", .node = text_of("a1")}})});
  EXPECT_EQ(changed("a = 1\n", {"ice"}, ice, TomlLayout::in_one_line),
            "a = 1\nice = [{ section = \"a1\" }]\n");
  EXPECT_EQ(changed("a = 1\n", {"ice"}, ice), "a = 1\n\n[[ice]]\nsection = \"a1\"\n");
  EXPECT_EQ(changed("ice = \"everywhere\" # all\n", {"ice"}, ice, TomlLayout::in_one_line),
            "ice = [{ section = \"a1\" }] # all\n");
}

TEST(ChangeToml, QuotesWhatHasToBeQuoted) {
  const std::string awkward = "\"K41\" \\ \t# [a] = 'é'\n";
  const std::string text = changed("a = 'x' # c\n", {"a"}, text_of(awkward));
  EXPECT_EQ(text, "a = \"\\\"K41\\\" \\\\ \\t# [a] = 'é'\\n\" # c\n");
  EXPECT_EQ(changed("\"b c\".d = 1\n", {"b c", "e f"}, whole_of(2)),
            "\"b c\".d = 1\n\"b c\".\"e f\" = 2\n");
}

TEST(ChangeToml, KeepsLineBreaksOfItsOwnKind) {
  EXPECT_EQ(changed("a = 1 # c\r\n[t]\r\n", {"b"}, whole_of(2)), "a = 1 # c\r\nb = 2\r\n[t]\r\n");
  EXPECT_EQ(changed("a = 1 # c\r\nb = 3\r\n", {"a"}, whole_of(2)), "a = 2 # c\r\nb = 3\r\n");
  EXPECT_EQ(changed("a = [\r\n  1,\r\n]\r\n", {"a", 1U}, whole_of(2)),
            "a = [\r\n  1,\r\n  2,\r\n]\r\n");
  EXPECT_EQ(changed("a = 1", {"b"}, whole_of(2)), "a = 1\nb = 2\n");
  EXPECT_EQ(changed("\xEF\xBB\xBF"
                    "a = 1\n",
                    {"a"}, whole_of(2)),
            "\xEF\xBB\xBF"
            "a = 2\n");
}

TEST(ChangeToml, IsNotMisledByWhatLooksLikeMore) {
  const std::string text =
      "a = \"\"\"\n[t]\nb = 1 \\\"\"\"\n\"\"\" # end\nc = '''#''' # [x]\nd = [ # ]\n  \"]\", "
      "']'\n]\n"
      "b = 2\n";
  EXPECT_EQ(changed(text, {"b"}, whole_of(3)),
            "a = \"\"\"\n[t]\nb = 1 \\\"\"\"\n\"\"\" # end\nc = '''#''' # [x]\nd = [ # ]\n  \"]\", "
            "']'\n]\n"
            "b = 3\n");
}

TEST(ChangeToml, FindsTheEndOfATextOfSeveralLinesWithQuotesInIt) {
  EXPECT_EQ(changed("a = \"\"\"\nhe said \"yes\"\nb = 1\n\"\"\"\"\nb = 2\n", {"b"}, whole_of(3)),
            "a = \"\"\"\nhe said \"yes\"\nb = 1\n\"\"\"\"\nb = 3\n");
}

TEST(ChangeToml, AddsToATableThatIsNamedOnlyByDottedKeysOrByTablesInIt) {
  EXPECT_EQ(changed("  a.b = 1\nc = 2\n", {"a", "d"}, whole_of(3)),
            "  a.b = 1\n  a.d = 3\nc = 2\n");
  EXPECT_EQ(changed("# of b\n[a.b]\nc = 1\n", {"a", "d"}, whole_of(3)),
            "# of b\n[a]\nd = 3\n\n[a.b]\nc = 1\n");
}

TEST(ChangeToml, MakesTheTablesOnTheWay) {
  EXPECT_EQ(changed("a = 1\n", {"release", "issue"}, whole_of(2)),
            "a = 1\n\n[release]\nissue = 2\n");
  EXPECT_EQ(changed("", {"kind"}, text_of("train")), "kind = \"train\"\n");
}

TEST(ChangeToml, SaysAWholeTreeAndKeepsWhatIsThereAlready) {
  const std::string before =
      "# head\nid = \"t\" # id\n\n[[consist]] # first\nvehicle = \"k41\"\n# between\nleading_cab = "
      "1\n";
  Diagnostics none;
  auto tree = parse_toml({.file = "f", .text = before}, none);
  ASSERT_TRUE(tree);
  auto& consist = std::get<TomlArray>(
      std::ranges::find(std::get<TomlEntries>(tree->value), "consist", &TomlEntry::key)
          ->node.value);
  std::get<TomlEntries>(consist[0].value)[1].node = whole_of(2);
  consist.push_back(value_of(TomlEntries{{.key = "load", .node = text_of("ore")}}));
  EXPECT_EQ(changed(before, {"consist"}, value_of(consist)),
            "# head\nid = \"t\" # id\n\n[[consist]] # first\nvehicle = \"k41\"\n# between\n"
            "leading_cab = 2\n\n[[consist]]\nload = \"ore\"\n");
}

TEST(ChangeToml, RefusesWhatLeadsNowhere) {
  EXPECT_TRUE(changed("a = 1\n", {}, whole_of(2)).starts_with("refused"));
  EXPECT_TRUE(changed("a = 1\n", {"a", "b"}, whole_of(2)).starts_with("refused"));
  EXPECT_TRUE(changed("a = [1]\n", {"a", 5U}, whole_of(2)).starts_with("refused"));
  EXPECT_TRUE(changed("a = \n", {"a"}, whole_of(2)).starts_with("refused"));
  const std::string mended = changed("a = 2,5\n", {"b"}, whole_of(2));
  EXPECT_TRUE(mended.starts_with("refused: f:1:"))
      << "a text that a reader only mends is no text to go on with; what is wrong with it is said: "
      << mended;
}

/// All places of a tree where a value stands.
void places_in(const TomlNode& node, TomlPath& at, std::vector<TomlPath>& all) {
  const auto go = [&](const TomlNode& below, TomlStep step) {
    at.push_back(std::move(step));
    all.push_back(at);
    places_in(below, at, all);
    at.pop_back();
  };
  if (const auto* const entries = std::get_if<TomlEntries>(&node.value)) {
    for (const TomlEntry& entry : *entries) {
      go(entry.node, entry.key);
    }
  } else if (const auto* const list = std::get_if<TomlArray>(&node.value)) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      go((*list)[i], i);
    }
  }
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines(1);
  for (const char c : text) {
    lines.back() += c;
    if (c == '\n') {
      lines.emplace_back();
    }
  }
  return lines;
}

TomlNode random_scalar(std::mt19937& random) {
  switch (random() % 5) {
    case 0:
      return whole_of(static_cast<std::int64_t>(random()) - 2'000'000'000);
    case 1:
      return value_of((static_cast<double>(random()) - 2e9) / 4096);
    case 2:
      return value_of(random() % 2 == 0);
    case 3:
      return value_of(TomlDate{
          .is_day = true, .year = 2031, .month = 5, .day = 1 + static_cast<int>(random() % 28)});
    default: {
      std::string text;
      for (std::size_t i = random() % 12; i > 0; --i) {
        text += static_cast<char>(1 + random() % 126);
      }
      return text_of(text);
    }
  }
}

/// Whatever file of the demo and whatever value in it: a new value is read as exactly that, and
/// every line before and behind the one it stands on is what it was.
TEST(ChangeToml, OfRandomValuesInTheDemosFilesTheOtherLinesStay) {
  std::mt19937 random(17);
  int changes = 0;
  for (const auto& file :
       std::filesystem::recursive_directory_iterator(std::filesystem::path(PANUP_DEMO_FOLDER))) {
    if (file.path().extension() != ".toml" || random() % 3 != 0) {
      continue;
    }
    Diagnostics none;
    const auto source = load_text(file.path().string(), none);
    ASSERT_TRUE(source);
    const auto tree = parse_toml(*source, none);
    ASSERT_TRUE(tree);
    std::vector<TomlPath> places;
    TomlPath at;
    places_in(*tree, at, places);
    for (int i = 0; i < 12; ++i) {
      const TomlPath& place = places[random() % places.size()];
      const TomlNode* const old = find_value(*tree, place);
      if (old->value.index() >= 5) {
        continue;  // tables and lists are made of more than a line
      }
      const TomlNode to = random_scalar(random);
      const std::string now = changed(source->text, place, to);
      const auto now_tree = parse_toml({.file = "now", .text = now}, none);
      ASSERT_TRUE(now_tree && none.empty()) << file.path() << "\n" << now;
      const TomlNode* const read = find_value(*now_tree, place);
      ASSERT_NE(read, nullptr);
      EXPECT_TRUE(say_the_same(*read, to));
      const std::vector<std::string> before = lines_of(source->text);
      const std::vector<std::string> after = lines_of(now);
      ASSERT_EQ(before.size(), after.size());
      int differ = 0;
      for (std::size_t line = 0; line < before.size(); ++line) {
        differ += before[line] == after[line] ? 0 : 1;
      }
      EXPECT_LE(differ, 1) << file.path();
      ++changes;
      // Taken out, all lines before it and behind it stay; a list of one value may have three.
      const std::string without = changed(source->text, place, std::nullopt);
      const std::vector<std::string> left = lines_of(without);
      ASSERT_FALSE(without.starts_with("refused")) << file.path() << without;
      const auto same = [](auto a, auto a_end, auto b, auto b_end) {
        return std::mismatch(a, a_end, b, b_end).first - a;
      };
      const auto first = same(before.begin(), before.end(), left.begin(), left.end());
      const auto last = same(before.rbegin(), before.rend(), left.rbegin(), left.rend());
      EXPECT_LE(static_cast<std::ptrdiff_t>(before.size()) - first - last, 3)
          << file.path() << without;
    }
  }
  EXPECT_GT(changes, 100);
}

TEST(ChangeToml, WhatIsWrittenIsWhatTheReaderReads) {
  Diagnostics none;
  const auto conditions = read_conditions(
      {.file = "f", .text = changed(winter, {"wind_ms"}, value_of(12.5))}, nullptr, none);
  ASSERT_TRUE(conditions);
  EXPECT_EQ(conditions->wind_ms, 12.5);
}

// Lists of tables in another order.

TomlNode table_of(std::string key, std::int64_t value) {
  return value_of(TomlEntries{{.key = std::move(key), .node = whole_of(value)}});
}

/// The text with the tables of its list `a` as they are named: 1 is its first one, 0 a new one.
std::string arranged(const std::string& text, const std::vector<std::size_t>& order) {
  Diagnostics diagnostics;
  const auto root = parse_toml({.file = "f", .text = text}, diagnostics);
  const auto& there = std::get<TomlArray>(find_value(*root, {"a"})->value);
  TomlArray to;
  std::vector<std::optional<std::size_t>> from;
  for (const std::size_t one : order) {
    from.push_back(one == 0 ? std::nullopt : std::optional(one - 1));
    to.push_back(one == 0 ? table_of("new", 1) : there[one - 1]);
  }
  const auto now = change_toml({.file = "f", .text = text},
                               {.at = {"a"}, .to = value_of(to), .from = from}, diagnostics);
  return now ? *now : "refused";
}

TEST(ChangeToml, ATableThatIsMovedTakesWhatIsBelowItAndTheCommentsAtItAlong) {
  const std::string one = "# of one\n[[a]]\nx = 1 # x\n[[a.b]]\ny = 1\n[a.c]\nz = 1\n# under one\n";
  const std::string two = "[[a]]\nx = 2\n";
  const std::string three = "# of three\n[[a]]\nx = 3\n";
  const std::string text = "k = 1\n\n" + one + "\n# of none\n\n" + two + three + "\n[r]\ns = 1\n";
  EXPECT_EQ(arranged(text, {1, 2, 3}), text);
  EXPECT_EQ(arranged(text, {3, 2, 1}),
            "k = 1\n\n" + three + "\n# of none\n\n" + two + one + "\n[r]\ns = 1\n");
  EXPECT_EQ(arranged(text, {2, 3}), "k = 1\n\n# of none\n\n" + two + three + "\n[r]\ns = 1\n");
  EXPECT_EQ(arranged(text, {1, 2}), "k = 1\n\n" + one + "\n# of none\n\n" + two + "\n[r]\ns = 1\n");
  EXPECT_EQ(arranged(text, {3, 0}),
            "k = 1\n\n# of none\n\n" + three + "\n[[a]]\nnew = 1\n\n[r]\ns = 1\n");
}

TEST(ChangeToml, ANewTableIsPutWhereItIsToStand) {
  const std::string text = "[[a]]\nx = 1\n\n[[a]]\nx = 2";
  EXPECT_EQ(arranged(text, {1, 0, 2}), "[[a]]\nx = 1\n\n[[a]]\nnew = 1\n\n[[a]]\nx = 2\n");
  EXPECT_EQ(arranged(text, {0, 0}), "[[a]]\nnew = 1\n\n[[a]]\nnew = 1\n");
  EXPECT_EQ(arranged(text, {2, 1, 0}), "[[a]]\nx = 2\n\n[[a]]\nx = 1\n\n[[a]]\nnew = 1\n");
}

TEST(ChangeToml, TablesInOneLineAreMovedWhereNoCommentStandsBetweenThem) {
  EXPECT_EQ(arranged("a = [ { x = 1 }, { x = 2 }, ] # all\n", {2, 0, 1}),
            "a = [ { x = 2 }, { new = 1 }, { x = 1 }, ] # all\n");
  EXPECT_EQ(arranged("a = [ { x = 1 }, # one\n { x = 2 } ]\n", {2, 1}), "refused");
}

TEST(ChangeToml, TablesStrewnOverTheFileAreNotMoved) {
  EXPECT_EQ(arranged("[[a]]\nx = 1\n[[a]]\nx = 2\n[r]\ns = 1\n[a.b]\ny = 1\n", {2, 1}), "refused");
}

}  // namespace
}  // namespace panup
