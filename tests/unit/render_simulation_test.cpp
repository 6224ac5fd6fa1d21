#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "base/handed_out.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "drawn_texts.h"
#include "figures/simulation_diagrams.h"
#include "sample_simulation.h"

namespace panup {
namespace {

using Texts = std::vector<DrawnText>;

std::vector<Texts> sheets_of(const DiagramSheets& sheets) {
  const TextSetter setter;
  std::vector<Texts> drawn;
  for (std::size_t i = 0; i < sheets.sheets.size(); ++i) {
    drawn.push_back(texts_of_sheet(a4_landscape, i, [&](Canvas& canvas, std::size_t sheet) {
      draw_diagram_sheet(canvas, setter, sheets, sheet);
    }));
  }
  return drawn;
}

DiagramSheets sheets_named(std::string_view name) {
  if (name == "rest") {
    return statics_sheets(sample_statics());
  }
  if (name == "rough_rest") {
    return statics_sheets(rough_statics());
  }
  return simulation_sheets(name == "rough" ? rough_simulation()
                                           : sample_simulation(name == "one" ? 1 : 2));
}

// Named, and made when they are tested: runs take their time.
class EverySheet : public testing::TestWithParam<const char*> {
 protected:
  const std::vector<Texts> sheets = sheets_of(sheets_named(GetParam()));
};

TEST_P(EverySheet, KeepsAllTextInsideTheMargins) {
  constexpr double margin = 18;
  for (const Texts& texts : sheets) {
    for (const DrawnText& text : texts) {
      EXPECT_GE(text.ink.x, margin) << text.text;
      EXPECT_GE(text.ink.y, margin) << text.text;
      EXPECT_LE(text.ink.right(), a4_landscape.width - margin) << text.text;
      EXPECT_LE(text.ink.bottom(), a4_landscape.height - margin) << text.text;
    }
  }
}

TEST_P(EverySheet, PutsNoTextOnAnother) {
  for (const Texts& texts : sheets) {
    for (std::size_t i = 0; i < texts.size(); ++i) {
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        EXPECT_FALSE(overlap(texts[i].ink, texts[j].ink)) << texts[i].text << "\n" << texts[j].text;
      }
    }
  }
}

TEST_P(EverySheet, SetsNothingTooSmallToRead) {
  for (const Texts& texts : sheets) {
    for (const DrawnText& text : texts) {
      EXPECT_GE(text.smallest_pt, 8.5) << text.text;
    }
  }
}

TEST_P(EverySheet, CarriesCautionsMarkAndNumber) {
  ASSERT_FALSE(sheets.empty());
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    EXPECT_TRUE(says(sheets[i], "Nobody goes on a roof or near a live wire"));
    EXPECT_TRUE(says(sheets[i], "DEMO – invented data"));
    EXPECT_TRUE(
        says(sheets[i], "sheet " + std::to_string(i + 1) + " of " + std::to_string(sheets.size())));
  }
}

TEST_P(EverySheet, ShowsNoControlCharactersAndNoNumberThatIsNone) {
  for (const Texts& texts : sheets) {
    for (const DrawnText& text : texts) {
      EXPECT_EQ(text.text.find('\x1b'), std::string::npos);
      EXPECT_EQ(text.text.find("nan"), std::string::npos) << text.text;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Simulation, EverySheet,
                         testing::Values("one", "two", "rough", "rest", "rough_rest"),
                         [](const auto& tested) { return std::string(tested.param); });

TEST(SimulationSheets, ShowEveryPantographWithItsFiguresAndPlace) {
  const SimulationReport report = rough_simulation();
  const std::vector<Texts> sheets = sheets_of(simulation_sheets(report));
  for (std::size_t i = 0; i < report.pantographs.size(); ++i) {
    const std::string which = "Pantograph " + std::to_string(i + 1) + ", ";
    // Contact force, heights, histogram.
    EXPECT_EQ(std::ranges::count_if(sheets, [&](const Texts& texts) { return says(texts, which); }),
              3)
        << which;
  }
  EXPECT_TRUE(says(sheets.front(), "mean − 3σ −140 N"));
  EXPECT_TRUE(says(sheets.front(), "contact loss 12.34 % of the time"));
  EXPECT_TRUE(says(sheets.front(), "black along the top: contact loss"));
  EXPECT_FALSE(
      says(sheets_of(simulation_sheets(sample_simulation(1))).front(), "black along the top"));
}

TEST(SimulationSheets, AreNotMarkedWhereNothingIsInvented) {
  SimulationReport report = sample_simulation(1);
  report.line.invented = false;
  EXPECT_TRUE(simulation_sheets(report).invented) << "the pantograph is";
  report.pantographs[0].model.invented = false;
  EXPECT_FALSE(simulation_sheets(report).invented);
}

TEST(StaticsSheets, ShowTheForceOfEveryDropperInTheSpansShown) {
  const StaticReport report = sample_statics();
  const Texts texts = sheets_of(statics_sheets(report)).front();
  EXPECT_TRUE(says(texts, "Spans 4 to 6 of 9"));
  EXPECT_TRUE(says(texts, "times as large as lengths"));
  std::size_t labels = 0;
  for (const StaticDropper& dropper : report.state.droppers) {
    labels += dropper.span >= 3 && dropper.span < 6 ? 1 : 0;
  }
  const auto found = std::ranges::count_if(texts, [&](const DrawnText& text) {
    return std::ranges::any_of(report.state.droppers, [&](const StaticDropper& dropper) {
      return text.text == std::to_string(std::lround(dropper.force_n));
    });
  });
  EXPECT_GE(static_cast<std::size_t>(found), labels);
}

TEST(StaticsSheets, SayThatBrokenLinesAreSlackDroppers) {
  EXPECT_TRUE(says(sheets_of(statics_sheets(rough_statics())).front(), "broken: slack droppers"));
}

TEST(RenderSimulation, GivesThePdfAndEachSheetTwiceAndTheSameBytesEveryTime) {
  const SimulationReport report = sample_simulation(1);
  const std::vector<RenderedFile> once = render_simulation(report);
  const std::vector<RenderedFile> again = render_simulation(report);
  ASSERT_EQ(once.size(), 7U);
  EXPECT_EQ(once[0].name, "simulation.pdf");
  EXPECT_TRUE(once[0].bytes.starts_with("%PDF-"));
  EXPECT_EQ(once[1].name, "simulation-1.svg");
  EXPECT_EQ(once[2].name, "simulation-1.png");
  for (std::size_t i = 0; i < once.size(); ++i) {
    EXPECT_TRUE(once[i].bytes == again[i].bytes) << once[i].name;
  }
}

std::vector<std::string> all_texts() {
  return {simulation_to_text(sample_simulation(1)), simulation_to_text(rough_simulation()),
          statics_to_text(sample_statics()), statics_to_text(rough_statics())};
}

TEST(SimulationText, FitsATerminalAndObeysNoControlCharacter) {
  for (const std::string& text : all_texts()) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      EXPECT_LE(columns_of(line), text_columns) << line;
    }
    EXPECT_EQ(text.find('\x1b'), std::string::npos);
    EXPECT_TRUE(text.starts_with("DEMO – invented data\n"));
    EXPECT_NE(text.find("Nobody goes on a roof or near a live wire"), std::string::npos);
    EXPECT_TRUE(text.ends_with("\n"));
  }
}

TEST(SimulationText, FitsATerminalInGermanToo) {
  SimulationReport run = rough_simulation();
  StaticReport rest = rough_statics();
  run.words = rest.words = built_in_words("de");
  for (const std::string& text : {simulation_to_text(run), statics_to_text(rest)}) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      EXPECT_LE(columns_of(line), text_columns) << line;
    }
    EXPECT_TRUE(text.starts_with("DEMO – erfundene Daten\n"));
    EXPECT_NE(text.find("Niemand begibt sich"), std::string::npos);
    EXPECT_NE(text.find("0,"), std::string::npos) << text;
  }
  EXPECT_NE(simulation_to_text(run).find("−12,5 °C"), std::string::npos);
  EXPECT_EQ(simulation_to_json(run)["language"], "de");
  EXPECT_EQ(simulation_to_json(run)["doubts"], simulation_to_json(rough_simulation())["doubts"]);
}

TEST(SimulationText, SaysWhatMakesTheFiguresDoubtful) {
  const std::string rough = simulation_to_text(rough_simulation());
  EXPECT_NE(rough.find("WARNINGS\n  - The speed is close to something."), std::string::npos)
      << rough;
  EXPECT_NE(rough.find("Ice weighs on the wires and moves with them"), std::string::npos);
  EXPECT_NE(rough.find("−12.5 °C"), std::string::npos);
  EXPECT_NE(rough.find("JSON has all"), std::string::npos);
  const std::string smooth = simulation_to_text(sample_simulation(1));
  EXPECT_EQ(smooth.find("WARNINGS"), std::string::npos);
  EXPECT_EQ(smooth.find("ice weighs"), std::string::npos);
}

TEST(SimulationJson, NamesItsDoubtsForScripts) {
  const auto json = simulation_to_json(rough_simulation());
  EXPECT_EQ(json["doubts"], nlohmann::ordered_json({"near-wave-speed", "energy"}));
  EXPECT_EQ(json["doubts"].size(), json["warnings"].size());
  EXPECT_EQ(json["warnings"][0], "The speed is close to something.");
  EXPECT_TRUE(json["other_supports"].is_null());
}

TEST(SimulationText, SaysOnceThatTheKnuckleWasNotStated) {
  SimulationReport report = sample_simulation(3);
  const auto count = [](const std::string& text) {
    std::size_t found = 0;
    for (std::size_t at = text.find("knuckle was not"); at != std::string::npos;
         at = text.find("knuckle was not", at + 1)) {
      ++found;
    }
    return found;
  };
  EXPECT_EQ(count(simulation_to_text(report)), 1U);
  report.knuckles_stated = true;
  EXPECT_EQ(count(simulation_to_text(report)), 0U);
}

TEST(StaticsText, TellsSpansThatHangAlikeTogether) {
  const std::string text = statics_to_text(sample_statics());
  EXPECT_NE(text.find("stitch wire"), std::string::npos);
  EXPECT_NE(text.find("3 to 7"), std::string::npos) << text;
  EXPECT_NE(statics_to_text(rough_statics()).find("4.2"), std::string::npos);
}

TEST(SimulationJson, SaysNullWhereNoSystemWasNamed) {
  SimulationReport report = sample_simulation(1);
  EXPECT_EQ(simulation_to_json(report)["energy_supply"], "AC 15 kV 16.7 Hz");
  report.supply.reset();
  EXPECT_TRUE(simulation_to_json(report)["energy_supply"].is_null());
}

TEST(Trace, IsARowForEachStepAndPantograph) {
  const SimulationReport report = sample_simulation(2);
  const std::string csv = trace_to_csv(report.result);
  std::size_t rows = 0;
  for (const auto& one : report.result.trace->pantographs) {
    rows += one.at_m.size();
  }
  EXPECT_EQ(std::ranges::count(csv, '\n'), static_cast<std::ptrdiff_t>(rows + 1));
  EXPECT_TRUE(csv.starts_with("pantograph,time_s,at_m,contact_force_n,"));
}

}  // namespace
}  // namespace panup
