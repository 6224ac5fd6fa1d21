#include "base/toml_guard.h"

#include <gtest/gtest.h>

#include <string>

#include "base/toml_tree.h"

namespace panup {

namespace {

/// What the guard, or else the parser, says of a text; empty if it is a TOML document.
std::string said_of(const std::string& text) {
  Diagnostics diagnostics;
  const bool parsed = parse_toml({.file = "f", .text = text}, diagnostics).has_value();
  EXPECT_TRUE(parsed || !diagnostics.empty());
  std::string lines;
  for (const Diagnostic& diagnostic : diagnostics) {
    lines += to_line(diagnostic);
  }
  return lines;
}

bool passes_guard(const std::string& text) {
  return !unfit_to_parse({.file = "f", .text = text}).has_value();
}

std::string repeated(std::string_view piece, int times) {
  std::string text;
  for (int i = 0; i < times; ++i) {
    text += piece;
  }
  return text;
}

TEST(TomlGuard, PassesNestingUpToTheGreatestAndNoDeeper) {
  EXPECT_EQ(said_of("x = " + repeated("[", 32) + repeated("]", 32) + "\n"), "");
  EXPECT_EQ(said_of("x = " + repeated("[", 33) + repeated("]", 33) + "\n"),
            "f:1:37: this is nested more than 32 deep; input files are flat");
  EXPECT_EQ(said_of("a" + repeated(".a", 31) + " = 1\n"), "");
  EXPECT_EQ(said_of("# one\na" + repeated(".a", 32) + " = 1\n"),
            "f:2:65: this is nested more than 32 deep; input files are flat");
}

TEST(TomlGuard, AddsUpKeysAndBracketsOverManyLines) {
  const std::string level = "{" + repeated("a.", 1900) + "a = [\n";
  const std::string text = "x = [\n" + repeated(level, 120) + "1" + repeated("]}", 120) + "]\n";
  EXPECT_EQ(said_of(text).find("f:2:"), 0U);
}

TEST(TomlGuard, CountsOneHeaderAfterAnotherAsFlat) {
  EXPECT_EQ(said_of("x = 1\n" + repeated("[[a.b]]\ny = [1, 2.5]\n", 200)), "");
}

TEST(TomlGuard, LooksOverStringsAndComments) {
  const std::string brackets = repeated("[", 40) + repeated(".", 40) + "\xC3\xA9";
  EXPECT_EQ(said_of("# " + brackets + "\nx = \"" + brackets + "\" # " + brackets + "\n"), "");
  EXPECT_EQ(said_of("x = '" + brackets + "\\'\ny = 2\n"), "") << "no escapes in '…'";
  EXPECT_EQ(said_of("x = \"\\\"" + brackets + "\"\n"), "") << "an escaped quote does not close";
  EXPECT_EQ(said_of("x = \"\"\"\n\"" + brackets + "\n\"\"\"\"\"\ny = \"z\"\n"), "")
      << "two quotes before the closing three are text";
  EXPECT_EQ(said_of("x = '''\n" + brackets + "\n'''\n"), "");
}

TEST(TomlGuard, RefusesCharactersOutsideOfQuotesThatAreNoToml) {
  EXPECT_EQ(said_of("ok = 1\ngr\xC3\xB6\xC3\x9F"
                    "e = 3\n"),
            "f:2:3: this is not TOML: '\xC3\xB6' (U+00F6) stands outside of quotes");
  EXPECT_EQ(said_of("x\xC2\xA0= 3\n"),
            "f:1:2: this is not TOML: '\xC2\xA0' (U+00A0) stands outside of quotes")
      << "a space that does not break cannot be seen: its number is said";
  EXPECT_EQ(said_of("x = 3 \xF0\x9F\x9A\x82\n"),
            "f:1:5: the value is a number alone, in the unit that stands in the key; "
            "'\xF0\x9F\x9A\x82' does not belong there");
}

TEST(TomlGuard, RefusesWhatTheParserHasNoAnswerForBehindABackslash) {
  EXPECT_EQ(said_of("x = \"\"\"a\\\n   \xC3\xA9\"\"\"\n"),
            "f:2:4: '\xC3\xA9' (U+00E9) cannot come straight after a backslash, nor begin the line "
            "after one; put the text on one line");
  EXPECT_FALSE(passes_guard("x = \"\"\"\\\xC3\xA9\"\"\"\n"));
  EXPECT_EQ(said_of("x = \"\"\"a\\\n   b\xC3\xA9\"\"\"\n"), "");
}

TEST(TomlGuard, RefusesAQuoteBehindSomethingElse) {
  EXPECT_EQ(said_of("x = 3'\xC3\xBC'\n"),
            "f:1:6: this is not TOML: a quote stands behind something else; text in quotes is a "
            "whole value, and a comma parts it from the next");
  for (const char* const text :
       {"x = 3 '\xC3\xBC'\n", "x = 1979-05-27 \"\xC3\xBC\"\n", "x = [1'\xC3\xBC']\n",
        "x = true\"\xC3\xBC\"\n", "x = \"a\" '\xC3\xBC'\n", "x = {a = 1\"\xC3\xBC\"}\n",
        "a'\xC3\xBC' = 1\n"}) {
    EXPECT_FALSE(passes_guard(text)) << text;
  }
}

TEST(TomlGuard, TakesAQuoteWhereverTextMayBegin) {
  for (const char* const text :
       {"'\xC3\xBC' = 1\n", "a . '\xC3\xBC' = 1\n", "['\xC3\xBC']\nx = 1\n", "[[ '\xC3\xBC' ]]\n",
        "x = [ # \xC3\xBC\n  '\xC3\xBC', # '\n  '\xC3\xBC' ]\n",
        "x = { '\xC3\xBC' = '\xC3\xBC', b = '\xC3\xBC' }\r\n\t'b' = ['''\xC3\xBC''']\r\n"}) {
    EXPECT_EQ(said_of(text), "") << text;
  }
}

TEST(TomlGuard, TakesAByteOrderMarkAndWindowsLineEnds) {
  EXPECT_EQ(said_of("\xEF\xBB\xBFx = \"\xC3\xA9\"\r\ny = 2\r\n"), "");
}

TEST(TomlTree, SurvivesTextsThatBreakTheParsersAssumptions) {
  for (const char* const text :
       {"[[=",    "[[#",       "[[\n",          "[[[",          "[\x03",     "[[\x03",
        "x = [}", "x = [ , ]", "x = [{ },  }]", "x = \"",       "x = \"\\",  "[",
        "[[",     "x =",       "x = {",         "\"\"\"\" = 1", "x = '''\n", ".",
        "=",      "x.y. = 1",  "x = 1979-13-41"}) {
    EXPECT_TRUE(said_of(text).starts_with("f:")) << text << ": " << said_of(text);
  }
}

}  // namespace

}  // namespace panup
