#include "base/toml_mending.h"

#include <gtest/gtest.h>

#include <string>

#include "base/toml_tree.h"

namespace panup {

namespace {

/// The only mistake found in a text, as "LINE:COLUMN: text"; the text it is mended into.
struct Mended {
  std::string said;
  std::string text;
};

Mended mended(const std::string& text) {
  const MendedText all = mend_toml({.file = "f", .text = text});
  Mended one{.said = {}, .text = all.text};
  for (const Diagnostic& mistake : all.mistakes) {
    one.said += (one.said.empty() ? "" : "\n") + to_line(mistake);
  }
  return one;
}

std::string said(const std::string& text) { return mended(text).said; }
std::string right(const std::string& text) { return mended(text).text; }

TEST(TomlMending, TakesADecimalCommaForAPoint) {
  EXPECT_EQ(said("x = 1\nlength_m = 19,6\n"),
            "f:2:12: a number has a decimal point, not a comma: 19.6");
  EXPECT_EQ(right("length_m = -19,6 # so long\n"), "length_m = -19.6 # so long\n");
  EXPECT_EQ(right("a = { x = 1,5, y = 2,25 }"), "a = { x = 1.5, y = 2.25 }");
}

TEST(TomlMending, AsksWhatACommaBeforeThreeDigitsMeans) {
  EXPECT_EQ(said("mass_t = 1,650"),
            "f:1:10: a number has a decimal point, not a comma: 1.650, or 1650 if thousands were "
            "meant");
  EXPECT_EQ(right("mass_kg = 1.650,5"), "mass_kg = 1650.5");
  EXPECT_EQ(right("mass_kg = 1,650.5"), "mass_kg = 1650.5");
  EXPECT_EQ(said("mass_kg = 80 000"), "f:1:11: a number has no spaces within it: 80000");
}

TEST(TomlMending, KnowsOtherWaysToWriteNumbersAndDays) {
  EXPECT_EQ(said("a = .5"), "f:1:5: a number begins with a digit: 0.5");
  EXPECT_EQ(said("a = 5."), "f:1:5: a number does not end with its point: 5");
  EXPECT_EQ(said("holds_until = 30.5.2031"),
            "f:1:15: a day is written as year, month, day: 2031-05-30");
  EXPECT_EQ(said("a = 1;"), "f:1:6: a value ends with its line, without ';'");
  EXPECT_EQ(said("a = 1 2"), "") << "two numbers, and no thousands";
}

TEST(TomlMending, LeavesTheUnitToTheKey) {
  EXPECT_EQ(said("length_m = 19.6 m"),
            "f:1:12: the unit stands in the key, the value is the number alone: 19.6");
  EXPECT_EQ(said("speed_kmh = 80km/h  # as built"),
            "f:1:13: the unit stands in the key, the value is the number alone: 80");
  EXPECT_EQ(right("speed_kmh = 80km/h  # as built"), "speed_kmh = 80  # as built");
  EXPECT_EQ(right("temperature_c = -6 °C"), "temperature_c = -6");
  EXPECT_EQ(right("braking_ms2 = 0.4 m/s²"), "braking_ms2 = 0.4");
}

TEST(TomlMending, DoesNotSayThatANumberInAnotherUnitIsRight) {
  EXPECT_EQ(said("length_m = 1960 cm"),
            "f:1:12: the value is a number alone, in the unit that stands in the key; 'cm' does "
            "not belong there");
}

TEST(TomlMending, SaysCommaAndUnitAtOnce) {
  EXPECT_EQ(said("length_m = 19,6 m"),
            "f:1:12: a number has a decimal point, not a comma: 19.6; and the unit stands in the "
            "key, the value is the number alone: 19.6");
}

TEST(TomlMending, PutsTextIntoQuotes) {
  EXPECT_EQ(said("nature = dangerous"), "f:1:10: text stands in quotes: \"dangerous\"");
  EXPECT_EQ(right("system = AC 25 kV 50 Hz # under it"), "system = \"AC 25 kV 50 Hz\" # under it");
  EXPECT_EQ(right("nature = dangerous\""), "nature = \"dangerous\"");
  EXPECT_EQ(said("name = “Böö to Ny”"), "f:1:8: text stands in straight quotes: \"Böö to Ny\"");
  EXPECT_EQ(right("a = { name = ‘Ny’, x = 1 }"), "a = { name = \"Ny\", x = 1 }");
}

TEST(TomlMending, KnowsOtherWordsForTrueAndFalse) {
  EXPECT_EQ(said("roof_line = yes"), "f:1:13: 'yes' is written true");
  EXPECT_EQ(right("a = True\nb = NO\n"), "a = true\nb = false\n");
}

TEST(TomlMending, TurnsTheBackslashesOfAPath) {
  EXPECT_EQ(said("stock = [\"..\\stock\\vehicles.toml\"]"),
            "f:1:10: a backslash in \"…\" begins an escape; write a path with '/': "
            "\"../stock/vehicles.toml\"");
  EXPECT_EQ(right("folder = \"C:\\lines\\\"\nx = 1"), "folder = \"C:/lines/\"\nx = 1");
  EXPECT_EQ(said("name = \"say \\\"so\\\"\\n\""), "") << "escapes of TOML";
}

TEST(TomlMending, KnowsOtherWaysToJoinAndToComment) {
  EXPECT_EQ(said("name: \"x\""), "f:1:5: a key and its value are joined by '=', not ':'");
  EXPECT_EQ(right("  length_m : 19,6"), "  length_m = 19.6");
  EXPECT_EQ(said("// a comment"), "f:1:1: a comment begins with '#'");
}

TEST(TomlMending, LeavesTomlAsItIs) {
  for (const std::string text :
       {"a = 19.6\nb = -1e5\nc = 0x1F\nd = 1_000\ne = +inf\nf = nan\n", "day = 2031-05-30\n",
        "at = 1979-05-27T07:32:00Z\ntime = 07:32:00\n", "a = [1,5]\nb = [ { c = 1, d = 2 } ]\n",
        "a = 'C:\\x y = 19,6'\nb = \"x = 19,6 m # “\"\n# c = 19,6\n",
        "a = \"\"\"\nb = 19,6\n\"\"\"\nc = '''\nd = 1 m\n'''\n", "a = true\r\nb = 1 \r\n", "= 5\n",
        "[[x\n", "a =\n", "a = \"\n", "a = “\n", "\xEF\xBB\xBFkind = \"x\"\n"}) {
    EXPECT_EQ(said(text), "") << text;
    EXPECT_EQ(right(text), text);
  }
}

TEST(TomlMending, CountsCharactersOfTheFileAsItIs) {
  EXPECT_EQ(said("a = { b = \"é\", c = 1,5, d = 2,5 }"),
            "f:1:20: a number has a decimal point, not a comma: 1.5\n"
            "f:1:29: a number has a decimal point, not a comma: 2.5");
}

TEST(TomlMending, LetsTheReaderGoOn) {
  Diagnostics diagnostics;
  const auto root = parse_toml({.file = "f", .text = "a = 1,5\nb = yes\n"}, diagnostics);
  ASSERT_TRUE(root);
  EXPECT_EQ(diagnostics.size(), 2U) << "but never without a diagnostic";
  EXPECT_EQ(std::get<double>(std::get<TomlEntries>(root->value)[0].node.value), 1.5);
}

TEST(TomlMending, SaysOfANameThatStandsTwiceWhatWouldBeRight) {
  const auto parsed = [](const std::string& text) {
    Diagnostics diagnostics;
    parse_toml({.file = "f", .text = text}, diagnostics);
    return diagnostics.empty() ? std::string() : to_line(diagnostics.front());
  };
  EXPECT_EQ(
      parsed("[stop]\nx = 1\n[stop]\nx = 2\n"),
      "f:3:1: this is not TOML: 'stop' begins a second time; where there may be several, each "
      "begins with [[stop]]");
  EXPECT_EQ(
      parsed("[[stop]]\nx = 1\n[stop]\nx = 2\n"),
      "f:3:1: this is not TOML: 'stop' begins a second time; where there may be several, each "
      "begins with [[stop]]");
  EXPECT_EQ(parsed("x = 1\nx = 2\n"), "f:2:5: this is not TOML: key 'x' stands here a second time");
}

TEST(TomlMending, SaysWhatElseIsNoToml) {
  Diagnostics diagnostics;
  EXPECT_FALSE(parse_toml({.file = "f", .text = "a = 1,5\n[[b\nc = 2,5\n"}, diagnostics));
  ASSERT_EQ(diagnostics.size(), 3U);
  EXPECT_EQ(diagnostics.back().place.line, 2);
}

}  // namespace

}  // namespace panup
