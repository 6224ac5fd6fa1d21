#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "bad_input_cases.h"
#include "input_texts.h"

namespace panup {

namespace {

struct Expected {
  std::string text_with_mistake;
  int line = 1;
  int column = 1;
};

/// The right text with the mistake made, and the place by counting lines and characters.
Expected make(const BadInput& bad) {
  Expected expected;
  std::string& text = expected.text_with_mistake;
  text = right_text(bad.kind);
  const std::size_t begin = text.find(bad.change);
  EXPECT_NE(begin, std::string::npos) << "the right text does not hold: " << bad.change;
  EXPECT_EQ(text.find(bad.change, begin + 1), std::string::npos) << "not once: " << bad.change;
  if (begin == std::string::npos) {
    return expected;
  }
  text.replace(begin, bad.change.size(), bad.into);
  std::size_t place = text.find('@');
  if (place != std::string::npos) {
    text.erase(place, 1);
  } else {
    place = bad.at.empty() ? 0 : text.find(bad.at);
  }
  EXPECT_NE(place, std::string::npos) << "the changed text does not hold: " << bad.at;
  const auto before = text.begin() + static_cast<std::ptrdiff_t>(std::min(place, text.size()));
  expected.line += static_cast<int>(std::count(text.begin(), before, '\n'));
  const auto line_begin = std::find(std::make_reverse_iterator(before), text.rend(), '\n').base();
  expected.column += static_cast<int>(before - line_begin);
  return expected;
}

std::string all_of(const Diagnostics& diagnostics) {
  std::string lines;
  for (const Diagnostic& diagnostic : diagnostics) {
    lines += to_line(diagnostic) + "\n";
  }
  return lines;
}

class BadInputTest : public testing::TestWithParam<BadInput> {};

TEST_P(BadInputTest, IsReportedOnceAtItsPlace) {
  const BadInput& bad = GetParam();
  const Expected expected = make(bad);
  const Diagnostics said = mistakes_of(bad.kind, expected.text_with_mistake);
  ASSERT_EQ(said.size(), 1U) << all_of(said);
  const Diagnostic& mistake = said.front();
  EXPECT_EQ(mistake.place.file, "f.toml");
  EXPECT_EQ(fmt::format("{}:{}", mistake.place.line, mistake.place.column),
            fmt::format("{}:{}", expected.line, expected.column))
      << to_line(mistake);
  if (bad.text.starts_with("...")) {
    EXPECT_NE(mistake.text.find(bad.text.substr(3)), std::string::npos) << to_line(mistake);
  } else {
    EXPECT_EQ(mistake.text, bad.text);
  }
}

std::string name_of_case(const testing::TestParamInfo<BadInput>& info) { return info.param.name; }

INSTANTIATE_TEST_SUITE_P(Stock, BadInputTest, testing::ValuesIn(bad_stock_cases()), name_of_case);
INSTANTIATE_TEST_SUITE_P(Train, BadInputTest, testing::ValuesIn(bad_train_cases()), name_of_case);
INSTANTIATE_TEST_SUITE_P(Route, BadInputTest, testing::ValuesIn(bad_route_cases()), name_of_case);
INSTANTIATE_TEST_SUITE_P(Separation, BadInputTest, testing::ValuesIn(bad_separation_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(Geometry, BadInputTest, testing::ValuesIn(bad_geometry_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(Running, BadInputTest, testing::ValuesIn(bad_running_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(Conditions, BadInputTest, testing::ValuesIn(bad_conditions_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(RuleBook, BadInputTest, testing::ValuesIn(bad_rule_book_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(ContactLine, BadInputTest, testing::ValuesIn(bad_contact_line_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(PantographModel, BadInputTest,
                         testing::ValuesIn(bad_pantograph_model_cases()), name_of_case);
INSTANTIATE_TEST_SUITE_P(Consents, BadInputTest, testing::ValuesIn(bad_consents_cases()),
                         name_of_case);

INSTANTIATE_TEST_SUITE_P(MeasuredForce, BadInputTest, testing::ValuesIn(bad_measured_force_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(SpeedTable, BadInputTest, testing::ValuesIn(bad_speed_table_cases()),
                         name_of_case);

INSTANTIATE_TEST_SUITE_P(Day, BadInputTest, testing::ValuesIn(bad_day_cases()), name_of_case);
INSTANTIATE_TEST_SUITE_P(Defects, BadInputTest, testing::ValuesIn(bad_defects_cases()),
                         name_of_case);

INSTANTIATE_TEST_SUITE_P(Network, BadInputTest, testing::ValuesIn(bad_network_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(Run, BadInputTest, testing::ValuesIn(bad_run_cases()), name_of_case);

INSTANTIATE_TEST_SUITE_P(PracticeCases, BadInputTest, testing::ValuesIn(bad_practice_cases()),
                         name_of_case);
INSTANTIATE_TEST_SUITE_P(WhatIf, BadInputTest, testing::ValuesIn(bad_what_if_cases()),
                         name_of_case);

TEST(RightTexts, AreReadWithoutAMistake) {
  for (const FileKind kind : all_file_kinds) {
    const Diagnostics said = mistakes_of(kind, std::string(right_text(kind)));
    EXPECT_TRUE(said.empty()) << name_of(kind) << ": " << all_of(said);
  }
}

TEST(SeveralMistakes, AreAllReportedInTheOrderOfTheFile) {
  std::string text(right_text(FileKind::stock));
  text = replaced(text, "head_width_mm = 1950", "head_widht_mm = 1950");
  text = replaced(text, "static_force_n = 70", "static_force_n = -70");
  text = replaced(text, "system = \"DC 3 kV\"\nstatic", "system = \"DC 3kV\"\nstatic");
  text = replaced(text, "length_m = 19.4", "length_ft = 64");
  text = replaced(text, "from_cab1_m = 14.2", "from_cab1_m = 5.2");
  text = replaced(text, "highest_speed_kmh = 90", "highest_speed_kmh = \"90\"");
  const std::string expected =
      "f.toml:4:1: key 'head_width_mm' is missing\n"
      "f.toml:7:1: unknown key 'head_widht_mm'; did you mean 'head_width_mm'?\n"
      "f.toml:19:18: 'static_force_n' is -70; expected a value from 20 to 300\n"
      "f.toml:36:10: 'system' is \"DC 3kV\"; did you mean \"DC 3 kV\"? It is one of "
      "\"AC 15 kV 16.7 Hz\", \"AC 25 kV 50 Hz\", \"DC 3 kV\" or \"DC 1.5 kV\"\n"
      "f.toml:41:1: key 'length_m' is missing\n"
      "f.toml:44:1: unknown unit 'ft' in key 'length_ft'; it would be 'length_m'\n"
      "f.toml:57:15: two pantographs stand at one place, 5.2 m from cab 1\n"
      "f.toml:78:21: 'highest_speed_kmh' is text; expected a number, without quotes\n";
  EXPECT_EQ(all_of(mistakes_of(FileKind::stock, text)), expected);
}

TEST(UnsoundText, IsReportedForEveryKindOfFile) {
  const std::string too_large(9'000'000, '#');
  const std::string many_arrays = "x = " + std::string(100, '[') + std::string(100, ']');
  std::string dotted = "x";
  for (int i = 1; i < 1500; ++i) {
    dotted += ".x";
  }
  for (const FileKind kind : all_file_kinds) {
    const auto said = [kind](const std::string& text) { return all_of(mistakes_of(kind, text)); };
    EXPECT_EQ(said(too_large), "f.toml: it is larger than 8 MB; input files are smaller\n");
    EXPECT_EQ(said("kind = \"st\xFF\"\n"),
              "f.toml:1:11: this is not valid UTF-8; save the file as UTF-8\n");
    EXPECT_EQ(said("kind = 1 # \xC3\xA9\xED\xA0\x80\n"),
              "f.toml:1:13: this is not valid UTF-8; save the file as UTF-8\n");
    EXPECT_EQ(said(std::string("kind = \"a\"\nna\0me = 2\n", 21)),
              "f.toml:2:3: there is a NUL character here; expected text\n");
    EXPECT_EQ(said("# one\n#" + std::string(4000, '-')),
              "f.toml:2:4001: this line is longer than 4000 characters\n");
    EXPECT_EQ(said(many_arrays),
              "f.toml:1:37: this is nested more than 32 deep; input files are "
              "flat\n");
    EXPECT_EQ(said(dotted + " = 1\n").find("f.toml:1:"), 0U);
    EXPECT_NE(said(dotted + " = 1\n").find("nested more than 32 deep"), std::string::npos);
    EXPECT_NE(said("[" + dotted + "]\n").find("nested more than 32 deep"), std::string::npos);
    EXPECT_EQ(said(""),
              "f.toml:1:1: key 'kind' is missing; it is one of \"stock\", \"train\", "
              "\"route\", \"conditions\", \"rule book\", \"contact line\", \"pantograph "
              "model\", \"consents\", \"measured force\", \"speed table\", \"day\", "
              "\"defects\", \"what if\", \"network\", \"run\" or \"practice cases\"\n");
  }
}

TEST(UnsoundText, AcceptsALineOfExactlyTheGreatestLength) {
  const std::string text =
      std::string(right_text(FileKind::conditions)) + "#" + std::string(3999, '-') + "\n";
  EXPECT_EQ(all_of(mistakes_of(FileKind::conditions, text)), "");
}

TEST(WrongKind, IsSaidWithTheKindThatIsNeeded) {
  for (const FileKind expected : all_file_kinds) {
    for (const FileKind given : all_file_kinds) {
      if (given != expected) {
        EXPECT_EQ(all_of(mistakes_of(expected, std::string(right_text(given)))),
                  fmt::format("f.toml:1:8: this file is of kind \"{}\"; expected one of kind "
                              "\"{}\"\n",
                              name_of(given), name_of(expected)));
      }
    }
  }
}

TEST(Messages, StayOnOneLineWhateverAKeyHolds) {
  const std::string text =
      std::string(right_text(FileKind::conditions)) + "\"a\\nb\\u001B[2J\\u009B\" = 1\n";
  EXPECT_EQ(all_of(mistakes_of(FileKind::conditions, text)),
            "f.toml:9:1: unknown key 'a\\u000Ab\\u001B[2J\\u009B'\n");
}

}  // namespace

void PrintTo(const BadInput& bad, std::ostream* stream) { *stream << bad.name; }

}  // namespace panup
