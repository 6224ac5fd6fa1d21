/// From contact lines and models to answers; the runs are made up.

#include "plan/mechanics_answers.h"

#include <gtest/gtest.h>

#include "files/read_rule_book.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

using enum EnergySupply;

class MechanicsAnswersTest : public testing::Test {
 protected:
  MechanicsAnswersTest() {
    line.id = "T-140";
    line.contact_wire = {.tension_n = 12000, .mass_kg_per_m = 0.89};
    line.spans.assign(20, {.length_m = 60, .pre_sag_m = 0, .droppers = {}});
    line.supports.resize(21);
    data.lines.emplace("T-140", line);
    PantographModel model;
    model.masses = {{.mass_kg = 7}};
    data.pantographs.emplace(type->id, model);
    question = {.contact_line = "T-140",
                .supply = ac_15kv,
                .raised = {{type.get(), true, 0}, {type.get(), false, 20}},
                .to_kmh = 120,
                .temperature_c = 30};
  }

  /// Runs that pass up to a speed and are refused above it.
  MechanicsAnswer answer(double refused_above_kmh = 1000) {
    const RunSource runs = [&](const std::vector<SimulationRequest>& requests) {
      std::vector<RunFigures> figures;
      for (const SimulationRequest& request : requests) {
        asked = request;
        figures.emplace_back();
        if (request.speed_kmh > refused_above_kmh) {
          figures.back().refusals = {Sentence("the line of 1200 m is too short")};
          continue;
        }
        const double mean = 75 + 0.00047 * request.speed_kmh * request.speed_kmh;
        figures.back().pantographs.assign(request.pantographs.size(),
                                          {.mean_n = mean, .std_n = std_n, .min_n = 60});
        figures.back().wave_speed_kmh = 418;
        if (!run_warning.empty()) {
          figures.back().warnings.push_back({.text = Sentence(run_warning)});
        }
      }
      return std::optional(figures);
    };
    return mechanics_answers(data, rules, runs)({question})->front();
  }

  std::shared_ptr<const PantographType> type = pantograph({});
  RuleBook rules = built_in_rule_book();
  ContactLine line;
  MechanicsData data;
  MechanicsQuestion question;
  SimulationRequest asked;
  std::string run_warning;  ///< of each run; empty: none
  double std_n = 5;         ///< likewise
};

TEST_F(MechanicsAnswersTest, StaticForceIsTheTypesAndKnucklesAreAsTheyRun) {
  const MechanicsAnswer answered = answer();
  ASSERT_TRUE(answered.speed);
  EXPECT_EQ(answered.speed->speed_kmh, 120);
  ASSERT_EQ(asked.pantographs.size(), 2U);
  EXPECT_EQ(asked.pantographs[0].static_force_n, 70);
  EXPECT_EQ(asked.pantographs[0].knuckle, Knuckle::leading);
  EXPECT_EQ(asked.pantographs[1].knuckle, Knuckle::trailing);
  EXPECT_EQ(asked.pantographs[1].behind_first_m, 20);
}

TEST_F(MechanicsAnswersTest, TemperatureMattersOnlyWhereTheTerminationIsFixed) {
  answer();
  EXPECT_FALSE(asked.settings.weather_given);
  data.lines.at("T-140").termination = Termination::fixed;
  answer();
  EXPECT_TRUE(asked.settings.weather_given);
  EXPECT_EQ(asked.settings.weather.temperature_c, 30);
}

TEST_F(MechanicsAnswersTest, WhatIsMissingIsNamed) {
  question.contact_line = "T-80";
  EXPECT_NE(answer().unknown.find("no file of the contact line type T-80"), std::string::npos);
  question.contact_line.clear();
  EXPECT_NE(answer().unknown.find("names no contact line type"), std::string::npos);
  question.contact_line = "T-140";
  data.pantographs.clear();
  EXPECT_NE(answer().unknown.find("no mechanical model"), std::string::npos);
}

TEST_F(MechanicsAnswersTest, WithoutASpaceForUpliftItIsSaidToBeNotJudged) {
  ASSERT_EQ(answer().not_judged.size(), 1U);
  data.lines.at("T-140").uplift_space_mm = 200;
  EXPECT_TRUE(answer().not_judged.empty());
}

TEST_F(MechanicsAnswersTest, WhereNoRunIsPossibleThereIsNoAnswer) {
  const MechanicsAnswer answered = answer(0);
  EXPECT_FALSE(answered.speed);
  EXPECT_NE(answered.unknown.find("too short"), std::string::npos);
}

TEST_F(MechanicsAnswersTest, DoubtsNameTheLineOrTheModelThatTheyAreOf) {
  EXPECT_TRUE(answer().warnings.empty());
  run_warning = "The wires swing";
  EXPECT_EQ(answer().warnings, std::vector<std::string>{"T-140. At 120 km/h: The wires swing"});
  run_warning.clear();
  auto stiff = std::make_shared<PantographType>(*type);
  stiff->supplies.front().static_force_n = 95;  // the published range ends at 90 N
  question.raised.front().type = stiff.get();
  data.pantographs.at(type->id).id = "model-7";
  const std::vector<std::string> warnings = answer().warnings;
  ASSERT_EQ(warnings.size(), 1U);
  EXPECT_TRUE(warnings.front().starts_with("model-7. ")) << warnings.front();
  std_n = 100;  // no speed passes
  ASSERT_EQ(answer().speed->speed_kmh, 0);
  EXPECT_TRUE(answer().warnings.empty()) << "of a speed that nobody is told there is no doubt";
}

TEST_F(MechanicsAnswersTest, WhereRunsAreStoppedThereIsNoAnswer) {
  const RunSource stopped = [](const std::vector<SimulationRequest>&) {
    return std::optional<std::vector<RunFigures>>();
  };
  EXPECT_FALSE(mechanics_answers(data, rules, stopped)({question}));
}

// What cannot be run is not permitted: the runs below it are no answer for more.
TEST_F(MechanicsAnswersTest, WhereFasterRunsAreRefusedTheLastThatPassesIsTheSpeed) {
  const MechanicsAnswer answered = answer(90);
  ASSERT_TRUE(answered.speed);
  EXPECT_EQ(answered.speed->speed_kmh, 90);
  EXPECT_NE(answered.speed->text.find("too short"), std::string::npos);
}

}  // namespace
}  // namespace panup::scenario
