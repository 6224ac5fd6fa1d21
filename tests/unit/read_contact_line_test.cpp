#include "files/read_contact_line.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "bad_input_cases.h"
#include "input_texts.h"

namespace panup {

namespace {

ContactLine read(std::string text) {
  Diagnostics diagnostics;
  auto line = read_contact_line({.file = "f.toml", .text = std::move(text)}, diagnostics);
  EXPECT_EQ(lines_of(diagnostics), "");
  return line.value_or(ContactLine{});
}

ContactLine right_line() { return read(std::string(right_text(FileKind::contact_line))); }

TEST(ReadContactLine, KeepsWhatTheFileStatesOfTheWires) {
  const ContactLine line = right_line();
  EXPECT_EQ(line.id, "nv-1");
  EXPECT_EQ(line.name, "Line one");
  EXPECT_EQ(line.source, "invented");
  EXPECT_FALSE(line.invented);
  EXPECT_EQ(line.termination, Termination::fixed);
  EXPECT_EQ(line.reference_temperature_c, 12);
  EXPECT_EQ(line.mass_damping_per_s, 0.02);
  EXPECT_EQ(line.stiffness_damping_s, 0.0001);
  EXPECT_EQ(line.contact_wire.bending_stiffness_nm2, 120);
  EXPECT_EQ(line.contact_wire.axial_stiffness_n, 11e6);
  EXPECT_EQ(line.contact_wire.thermal_expansion_per_k, 17e-6);
  EXPECT_DOUBLE_EQ(line.contact_wire.diameter_m, 0.012);
  EXPECT_EQ(line.messenger_wire.tension_n, 15000);
  EXPECT_EQ(line.messenger_wire.mass_kg_per_m, 0.8);
  EXPECT_EQ(line.messenger_wire.bending_stiffness_nm2, 0) << "a string, where nothing is stated";
  EXPECT_EQ(line.place.file, "f.toml");
}

TEST(ReadContactLine, KeepsTheSpaceForUpliftAtTheSupports) {
  const ContactLine line = right_line();
  EXPECT_EQ(line.uplift_space_mm, 180);
  EXPECT_TRUE(line.uplift_limited_by_design);
}

TEST(ReadContactLine, KnowsNoSpaceForUpliftWhereNoneIsStated) {
  std::string text(right_text(FileKind::contact_line));
  text = replaced(text, "uplift_space_mm = 180\nuplift_limited_by_design = true\n", "");
  const ContactLine line = read(text);
  EXPECT_FALSE(line.uplift_space_mm);
  EXPECT_FALSE(line.uplift_limited_by_design);
}

TEST(ReadContactLine, TakesTheLeastAndTheGreatestSpaceForUplift) {
  const std::string text(right_text(FileKind::contact_line));
  EXPECT_EQ(read(replaced(text, "uplift_space_mm = 180", "uplift_space_mm = 20")).uplift_space_mm,
            20);
  EXPECT_EQ(read(replaced(text, "uplift_space_mm = 180", "uplift_space_mm = 1000")).uplift_space_mm,
            1000);
}

TEST(ReadContactLine, TakesTheFiguresOfTwinContactWiresAsThoseOfOne) {
  const ContactLine line = right_line();
  EXPECT_EQ(line.contact_wires, 2);
  EXPECT_EQ(line.contact_wire.tension_n, 10000);
  EXPECT_EQ(combined_contact_wire(line).tension_n, 20000);
  EXPECT_EQ(combined_contact_wire(line).mass_kg_per_m, 1.9);
}

TEST(ReadContactLine, RepeatsASpanAndGivesTheLineOneSupportMore) {
  const ContactLine line = right_line();
  ASSERT_EQ(line.spans.size(), 5U);
  ASSERT_EQ(line.supports.size(), 6U);
  EXPECT_EQ(line.spans[0].length_m, 40);
  for (const std::size_t i : {1U, 2U, 3U}) {
    EXPECT_EQ(line.spans[i].length_m, 48);
    EXPECT_DOUBLE_EQ(line.spans[i].pre_sag_m, 0.01);
    EXPECT_EQ(line.spans[i].droppers.size(), 6U);
  }
  EXPECT_TRUE(line.spans[4].droppers.empty()) << "droppers = \"none\"";
  EXPECT_EQ(length_of(line), 40 + 3 * 48 + 6);
}

TEST(ReadContactLine, SpreadsDroppersEvenlyFromTheFirst) {
  const std::vector<Dropper> droppers = right_line().spans[1].droppers;
  ASSERT_EQ(droppers.size(), 6U);
  for (std::size_t i = 0; i < droppers.size(); ++i) {
    EXPECT_DOUBLE_EQ(droppers[i].at_m, 4 + 8.0 * static_cast<double>(i));
    EXPECT_EQ(droppers[i].stiffness_n_per_m, 90000);
    EXPECT_EQ(droppers[i].mass_on_contact_wire_kg, 0.2);
    EXPECT_EQ(droppers[i].mass_on_messenger_kg, 0.3);
  }
}

TEST(ReadContactLine, TakesFromThePatternThatItIsLikeWhatIsNotStated) {
  const std::vector<Dropper> droppers = right_line().spans[0].droppers;
  ASSERT_EQ(droppers.size(), 4U) << "'at_m' stands for the 'number' and 'first_m' of the other";
  EXPECT_EQ(droppers[0].at_m, 7.5);
  EXPECT_EQ(droppers[3].at_m, 32.5);
  EXPECT_EQ(droppers[3].stiffness_n_per_m, 90000);
  EXPECT_EQ(droppers[3].mass_on_messenger_kg, 0.3);
}

TEST(ReadContactLine, ReplacesPlacesByANumberWhereAPatternIsLikeAnother) {
  std::string text(right_text(FileKind::contact_line));
  text = replaced(text, "[droppers.even]\nnumber = 6\nfirst_m = 4\n",
                  "[droppers.even]\nlike = \"listed\"\nnumber = 6\nfirst_m = 4\n");
  text = replaced(text, "[droppers.listed]\nlike = \"even\"\n", "[droppers.listed]\n");
  const ContactLine line = read(text);
  ASSERT_EQ(line.spans.size(), 5U);
  EXPECT_EQ(line.spans[0].droppers.size(), 4U);
  EXPECT_EQ(line.spans[1].droppers.size(), 6U);
}

TEST(ReadContactLine, FitsStitchWiresToTheSupportsThatStateTheirLength) {
  const ContactLine line = right_line();
  ASSERT_EQ(line.supports.size(), 6U);
  for (const std::size_t i : {1U, 2U, 3U}) {
    ASSERT_TRUE(line.supports[i].stitch_wire) << i;
    EXPECT_EQ(line.supports[i].stitch_wire->length_m, 12);
    EXPECT_EQ(line.supports[i].stitch_wire->wire.tension_n, 2500);
    EXPECT_EQ(line.supports[i].stitch_wire->wire.mass_kg_per_m, 0.25);
    EXPECT_EQ(line.supports[i].encumbrance_m, 1.4) << "of the support that it is like";
    EXPECT_EQ(line.supports[i].messenger_mass_kg, 3);
    EXPECT_EQ(line.supports[i].steady_arm_mass_kg, 1.5);
    EXPECT_EQ(line.supports[i].steady_arm_stiffness_n_per_m, 200);
  }
  for (const std::size_t i : {0U, 4U, 5U}) {
    EXPECT_FALSE(line.supports[i].stitch_wire) << i;
  }
}

TEST(ReadContactLine, FitsNoStitchWireAtTheEndsOfTheLine) {
  std::string text(right_text(FileKind::contact_line));
  text = replaced(text, "termination = \"fixed\"",
                  "termination = \"fixed\"\nlast_support = \"stitched\"");
  text = replaced(text, "[[span]]\nlength_m = 40\npre_sag_mm = 0\nsupport = \"plain\"",
                  "[[span]]\nlength_m = 40\npre_sag_mm = 0\nsupport = \"stitched\"");
  const ContactLine line = read(text);
  ASSERT_EQ(line.supports.size(), 6U);
  EXPECT_FALSE(line.supports.front().stitch_wire);
  EXPECT_TRUE(line.supports[1].stitch_wire);
  EXPECT_FALSE(line.supports.back().stitch_wire);
}

constexpr std::string_view shortest = R"(kind = "contact line"
id = "s"
termination = "auto-tensioned"
[wire.contact]
tension_n = 10000
mass_kg_per_m = 0.9
[wire.messenger]
tension_n = 10000
mass_kg_per_m = 0.6
[support.only]
encumbrance_m = 1.2
[support.low]
like = "only"
encumbrance_m = 0.9
[droppers.only]
number = 7
first_m = 5
[[span]]
repeat = 24
length_m = 60
pre_sag_mm = 0
support = "only"
)";

TEST(ReadContactLine, NeedsNoNameWhereOnlyOnePatternIsThereAndNoFigureThatDoesNoHarm) {
  const ContactLine line = read(std::string(shortest));
  EXPECT_EQ(line.name, "s");
  EXPECT_EQ(line.contact_wires, 1);
  EXPECT_EQ(line.reference_temperature_c, 10);
  ASSERT_EQ(line.spans.size(), 24U);
  ASSERT_EQ(line.supports.size(), 25U);
  EXPECT_EQ(line.spans[23].droppers.size(), 7U);
  EXPECT_EQ(line.spans[23].droppers[0].stiffness_n_per_m, 100000);
  EXPECT_EQ(line.spans[23].droppers[0].mass_on_contact_wire_kg, 0);
  EXPECT_EQ(line.supports[24].messenger_stiffness_n_per_m, 500000);
  EXPECT_EQ(line.supports[24].encumbrance_m, 1.2) << "the last support is as the one before";
}

TEST(ReadContactLine, TakesTheLastSupportThatTheFileNames) {
  const ContactLine line =
      read(replaced(std::string(shortest), "id = \"s\"", "id = \"s\"\nlast_support = \"low\""));
  ASSERT_EQ(line.supports.size(), 25U);
  EXPECT_EQ(line.supports[23].encumbrance_m, 1.2);
  EXPECT_EQ(line.supports[24].encumbrance_m, 0.9);
}

TEST(ReadContactLine, ReadsTheReferenceModelAsItIsRemembered) {
  Diagnostics diagnostics;
  const auto line = read_contact_line_file(
      std::string(PANUP_DATA_FOLDER) + "/lines/reference-en50318-2002.toml", diagnostics);
  ASSERT_TRUE(line) << lines_of(diagnostics);
  EXPECT_FALSE(line->invented);
  EXPECT_EQ(line->spans.size(), 10U);
  EXPECT_EQ(length_of(*line), 600);
  EXPECT_EQ(line->contact_wire.tension_n, 20000);
  EXPECT_EQ(line->contact_wire.mass_kg_per_m, 1.35);
  EXPECT_EQ(line->messenger_wire.tension_n, 16000);
  EXPECT_EQ(line->messenger_wire.mass_kg_per_m, 1.07);
  EXPECT_EQ(line->supports[5].encumbrance_m, 1.2);
  ASSERT_EQ(line->spans[5].droppers.size(), 9U);
  EXPECT_EQ(line->spans[5].droppers[1].at_m, 10.5);
  EXPECT_EQ(line->spans[5].droppers[8].at_m, 55);
}

TEST(ReadContactLine, ReadsEveryLineThatIsShipped) {
  int files = 0;
  for (const auto* const folder : {"/lines", "/demo/lines"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(PANUP_DATA_FOLDER) + folder)) {
      Diagnostics diagnostics;
      const auto line = read_contact_line_file(entry.path().string(), diagnostics);
      ASSERT_TRUE(line) << lines_of(diagnostics);
      EXPECT_FALSE(line->source.empty()) << entry.path() << " says where its figures come from";
      ++files;
    }
  }
  EXPECT_GE(files, 6);
}

TEST(ReadContactLine, SaysThatThereIsNoSuchFile) {
  Diagnostics diagnostics;
  EXPECT_FALSE(read_contact_line_file("no-such-line.toml", diagnostics));
  EXPECT_EQ(lines_of(diagnostics), "no-such-line.toml: there is no such file\n");
}

TEST(ReadContactLine, SaysOnceWhatIsWrongWithAPatternOfManySpans) {
  Diagnostics diagnostics;
  const std::string text =
      replaced(std::string(shortest), "number = 7\nfirst_m = 5", "at_m = [5, 59.9]");
  EXPECT_FALSE(read_contact_line({.file = "f.toml", .text = text}, diagnostics));
  EXPECT_EQ(lines_of(diagnostics),
            "f.toml:17:1: the dropper at 59.9 m does not fit into a span of 60 m: it stands at "
            "least 0.5 m from either support\n");
}

TEST(ReadContactLine, SaysOnceWhatIsWrongWithATableThatAnotherIsLike) {
  Diagnostics diagnostics;
  std::string text = replaced(std::string(shortest), "[support.low]\nlike = \"only\"\n",
                              "messenger_mass_kg = -1\n[support.low]\nlike = \"only\"\n");
  text = replaced(text, "encumbrance_m = 0.9", "encumbrance_m = 9");
  EXPECT_FALSE(read_contact_line({.file = "f.toml", .text = text}, diagnostics));
  EXPECT_EQ(lines_of(diagnostics),
            "f.toml:12:21: 'messenger_mass_kg' is -1; expected a value from 0 to 200\n"
            "f.toml:15:17: 'encumbrance_m' is 9; expected a value from 0.1 to 5\n");
}

TEST(ReadContactLine, SaysWhatElseIsWrongWithATableThatIsLikeNoOther) {
  Diagnostics diagnostics;
  std::string text = replaced(std::string(shortest), "like = \"only\"\nencumbrance_m = 0.9",
                              "like = \"onyl\"\nmessenger_mass_kg = -4\nstedy_arm_mass_kg = 1");
  text = replaced(text, "[[span]]", "[droppers.close]\nlike = \"onyl\"\nnumber = 600\n[[span]]");
  text = replaced(text, "support = \"only\"", "support = \"only\"\ndroppers = \"only\"");
  EXPECT_FALSE(read_contact_line({.file = "f.toml", .text = text}, diagnostics));
  sort_by_place(diagnostics);
  EXPECT_EQ(lines_of(diagnostics),
            "f.toml:13:8: there is no [support.NAME] called 'onyl'; did you mean 'only'?\n"
            "f.toml:14:21: 'messenger_mass_kg' is -4; expected a value from 0 to 200\n"
            "f.toml:15:1: unknown key 'stedy_arm_mass_kg'; did you mean 'steady_arm_mass_kg'?\n"
            "f.toml:20:8: there is no [droppers.NAME] called 'onyl'; did you mean 'only'?\n"
            "f.toml:21:10: 'number' is 600; expected a value from 2 to 100\n");
}

TEST(ReadContactLine, ChecksTheSpansThatComeAfterTooMany) {
  Diagnostics diagnostics;
  std::string text = replaced(std::string(shortest), "repeat = 24", "repeat = 500");
  text = replaced(text, "id = \"s\"", "id = \"s\"\nlast_support = \"low\"");
  text += "[[span]]\nlength_m = 60\npre_sag_mm = 0\nsupport = \"only\"\n";
  text += "[[span]]\nlength_m = 600\npre_sag_mm = 0\nsupport = \"only\"\n";
  EXPECT_FALSE(read_contact_line({.file = "f.toml", .text = text}, diagnostics));
  EXPECT_EQ(lines_of(diagnostics),
            "f.toml:24:1: with these spans the line has 501; at most 500\n"
            "f.toml:29:12: 'length_m' is 600; expected a value from 5 to 120\n");
}

/// What is said of the shortest line with this pre-sag and these droppers.
std::string said_of_pre_sag(double pre_sag_mm, std::string_view droppers, double bending) {
  Diagnostics diagnostics;
  std::string text = replaced(std::string(shortest), "length_m = 60\npre_sag_mm = 0",
                              "length_m = 30\npre_sag_mm = " + std::to_string(pre_sag_mm));
  text = replaced(text, "number = 7\nfirst_m = 5", droppers);
  text = replaced(text, "mass_kg_per_m = 0.9",
                  "mass_kg_per_m = 0.9\nbending_stiffness_nm2 = " + std::to_string(bending));
  read_contact_line({.file = "f.toml", .text = text}, diagnostics);
  return lines_of(diagnostics);
}

TEST(ReadContactLine, AcceptsPreSagUpToTheSagOfTheWireAndNoMore) {
  // Between the outer droppers, 20 m apart, the wire then hangs by itself: m'g 20²/(8 T) = 44.13
  // mm. About a support, between droppers 10 m apart, it sags by m'g 10²/(8 T) = 11.03 mm.
  constexpr std::string_view bare = "at_m = [5, 10, 15, 20, 25]";
  constexpr const char* pushes = "f.toml:21:14: the dropper at";
  EXPECT_EQ(said_of_pre_sag(33, bare, 0), "");
  const std::string too_much = said_of_pre_sag(33.2, bare, 0);
  EXPECT_NE(too_much.find(pushes), std::string::npos) << too_much;
  EXPECT_NE(too_much.find("would have to push with"), std::string::npos) << too_much;
  // Clamps of 0.2 kg add to the inner sag by a fifth of their weight on 5 m, and hang on the outer
  // droppers by themselves.
  constexpr std::string_view clamped = "at_m = [5, 10, 15, 20, 25]\nmass_on_contact_wire_kg = 0.2";
  EXPECT_EQ(said_of_pre_sag(34.8, clamped, 0), "");
  EXPECT_NE(said_of_pre_sag(35.2, clamped, 0).find("would have to push with"), std::string::npos);
}

TEST(ReadContactLine, CountsTheRefusalsOfTheStaticState) {
  Diagnostics diagnostics;
  const std::string text =
      replaced(std::string(shortest), "encumbrance_m = 1.2", "encumbrance_m = 0.662");
  EXPECT_FALSE(read_contact_line({.file = "f.toml", .text = text}, diagnostics));
  ASSERT_EQ(diagnostics.size(), 1U) << lines_of(diagnostics);
  EXPECT_NE(diagnostics[0].text.find(" more of that sort)"), std::string::npos)
      << diagnostics[0].text;
}

}  // namespace

}  // namespace panup
