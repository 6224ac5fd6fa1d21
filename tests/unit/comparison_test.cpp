#include <gtest/gtest.h>

#include <algorithm>

#include "base/handed_out.h"
#include "comparison/compare_plans.h"
#include "comparison/comparison_words.h"
#include "render/plan_json.h"
#include "render/run_json.h"
#include "sample_plan.h"

namespace panup {
namespace {

constexpr std::string_view today = "2031-05-30";

RunPlan run_of(std::vector<Plan> parts) {
  return {.id = "r", .name = "R", .route_name = "A – C", .parts = std::move(parts)};
}

/// As it comes back from its file.
SaidRun read_back(const std::string& text) {
  Diagnostics diagnostics;
  auto said = read_plan_json({"plan.json", text}, diagnostics);
  for (const Diagnostic& diagnostic : diagnostics) {
    ADD_FAILURE() << to_line(diagnostic);
  }
  return said ? *said : SaidRun{SaidPlan{}};
}

PlanComparison compared(const Plan& then, const Plan& now) {
  return compare_plans(read_back(plan_to_json(then).dump()), said_by(run_of({now})), today);
}

PlanComparison compared(const RunPlan& then, const RunPlan& now) {
  return compare_plans(read_back(run_to_json(then).dump()), said_by(now), today);
}

bool says(const PlanComparison& comparison, std::string_view what, std::string_view part) {
  return std::ranges::any_of(comparison.changes, [&](const PlanChange& change) {
    return change.what == what && change.text.find(part) != std::string::npos;
  });
}

/// The one mistake found in a document, as a line.
std::string mistake_in(const std::string& text) {
  Diagnostics diagnostics;
  EXPECT_FALSE(read_plan_json({"p.json", text}, diagnostics));
  return diagnostics.size() == 1 ? to_line(diagnostics.front()) : "";
}

/// The sample, all of which is permitted.
Plan permitted_plan() {
  Plan plan = sample_plan();
  plan.answer = Answer::permitted;
  for (PlannedSection& section : plan.sections) {
    section.answer = Answer::permitted;
  }
  for (InputFile& input : plan.inputs) {
    if (input.sha256.empty()) {
      input.sha256 = std::string(64, 'a');
    }
  }
  return plan;
}

TEST(Comparison, HoldsWhereNothingHasChanged) {
  const PlanComparison comparison = compared(permitted_plan(), permitted_plan());
  EXPECT_TRUE(comparison.still_holds());
  EXPECT_TRUE(comparison.changes.empty()) << comparison.changes.front().text;
  const std::string text = comparison_to_text(comparison, run_of({permitted_plan()}));
  EXPECT_NE(text.find("STILL HOLDS"), std::string::npos);
  EXPECT_NE(text.find("Nothing has changed."), std::string::npos);
}

TEST(Comparison, EndsWhereASpeedHasChanged) {
  Plan now = permitted_plan();
  now.sections[0].speed_kmh = 45;
  const PlanComparison comparison = compared(permitted_plan(), now);
  EXPECT_FALSE(comparison.still_holds());
  EXPECT_TRUE(says(comparison, "section", "km/h then, 45 km/h now"));
  EXPECT_NE(comparison_to_text(comparison, run_of({now})).find("DOES NOT HOLD"), std::string::npos);
  EXPECT_FALSE(comparison_to_json(comparison, run_of({now}))["still_holds"].get<bool>());
}

TEST(Comparison, EndsWhereAnotherPantographIsUp) {
  Plan now = permitted_plan();
  now.sections[0].raised = {{1, 2}, {2, 1}};
  EXPECT_TRUE(
      says(compared(permitted_plan(), now), "section", "1.1, 2.1 up then, 1.2, 2.1 up now"));
}

TEST(Comparison, DoesNotMindWhereAStretchIsCut) {
  Plan now = permitted_plan();
  PlannedSection second = now.sections[0];
  const double middle = (second.from_km + second.to_km) / 2;
  now.sections[0].to_km = middle;
  second.from_km = middle;
  now.sections.insert(now.sections.begin() + 1, second);
  EXPECT_TRUE(compared(permitted_plan(), now).still_holds());
}

TEST(Comparison, TellsAnInputThatLeadsToTheSameAnswers) {
  Plan then = permitted_plan();
  then.inputs = {{"train", "t.toml", std::string(64, 'a')}};
  Plan now = then;
  now.inputs[0].sha256 = std::string(64, 'b');
  now.program_version += "1";
  const PlanComparison comparison = compared(then, now);
  EXPECT_TRUE(comparison.still_holds());
  EXPECT_TRUE(says(comparison, "input", "Train t.toml has other contents than then."));
  EXPECT_TRUE(says(comparison, "program", "Version of panup"));
}

TEST(Comparison, TellsAFileThatIsMissingAndOneThatIsNew) {
  Plan then = permitted_plan();
  then.inputs = {{"rule book", "winter.toml", std::string(64, 'a')}};
  Plan now = then;
  now.inputs = {{"conditions", "day.toml", std::string(64, 'b')}};
  const PlanComparison comparison = compared(then, now);
  EXPECT_TRUE(says(comparison, "input", "Not used any longer: rule book winter.toml."));
  EXPECT_TRUE(says(comparison, "input", "Not part of the earlier plan: conditions day.toml."));
}

TEST(Comparison, AFileThatOnlyMovedIsTheSame) {
  Plan then = permitted_plan();
  then.inputs = {{"train", "a/t.toml", std::string(64, 'a')}};
  Plan now = then;
  now.inputs[0].path = "b/t.toml";
  EXPECT_TRUE(compared(then, now).changes.empty());
}

TEST(Comparison, EndsWhereAnInstructionOrAFailureChanged) {
  Plan now = permitted_plan();
  now.instructions[0].text = "Do otherwise.";
  now.contingencies[0].running_time_s += 1;  // only told
  EXPECT_TRUE(says(compared(permitted_plan(), now), "instruction", "Do otherwise."));
  EXPECT_FALSE(says(compared(permitted_plan(), now), "contingency", ""));
  now.contingencies[0].sections.front().speed_kmh += 5;
  EXPECT_TRUE(says(compared(permitted_plan(), now), "contingency", "is not what it was"));
}

TEST(Comparison, EndsWhereALastResortIsAcceptedThatWasNot) {
  Plan now = permitted_plan();
  now.sections[0].findings.push_back(
      {"facing", Strength::last_resort, Standing::practice, "Facing.", "common practice"});
  EXPECT_FALSE(compared(permitted_plan(), now).still_holds());
  now.sections[0].findings.back().strength = Strength::note;
  const PlanComparison comparison = compared(permitted_plan(), now);
  EXPECT_TRUE(comparison.still_holds());
  EXPECT_TRUE(says(comparison, "finding", "New, facing"));
}

TEST(Comparison, EndsWithAnotherTrainOrDay) {
  Plan now = permitted_plan();
  now.train.operated_by += " of the north";
  EXPECT_TRUE(says(compared(permitted_plan(), now), "train", "not the one"));
  now = permitted_plan();
  now.conditions.temperature_c = -30;
  EXPECT_TRUE(says(compared(permitted_plan(), now), "conditions", "not those"));
}

TEST(Comparison, EndsAfterTheDayUntilWhichItWasToHold) {
  Plan then = permitted_plan();
  then.train.release.holds_until = "2031-05-30";
  EXPECT_TRUE(compared(then, then).still_holds()) << "on the last day itself";
  then.train.release.holds_until = "2031-05-29";
  EXPECT_TRUE(says(compared(then, permitted_plan()), "validity", "until 2031-05-29"));
}

TEST(Comparison, WhatIsNotPermittedHoldsNoMoreThanItDid) {
  EXPECT_FALSE(compared(refused_plan(), refused_plan()).still_holds());
  EXPECT_TRUE(says(compared(permitted_plan(), consent_plan()), "answer", "consent needed"));
}

TEST(Comparison, SaysWhatIsWrongWithAFile) {
  EXPECT_EQ(mistake_in("{\n  \"a\": ]"), "p.json:2:8: this is not JSON, or is cut short here");
  EXPECT_NE(mistake_in("").find("not JSON"), std::string::npos);
  EXPECT_NE(mistake_in("[]").find("expected an object"), std::string::npos);
  EXPECT_NE(mistake_in(std::string(100000, '[')).find("nested"), std::string::npos);
  EXPECT_NE(mistake_in("{\"a\": 1e999}").find("too large"), std::string::npos);
}

TEST(Comparison, SaysWhichFieldIsMissingOrWrong) {
  for (const char* const key : {"train", "sections", "inputs", "instructions", "contingencies",
                                "rule_books", "answer", "program_version"}) {
    nlohmann::ordered_json json = plan_to_json(permitted_plan());
    json.erase(key);
    EXPECT_NE(mistake_in(json.dump()).find(std::string("'") + key + "' is missing"),
              std::string::npos)
        << key;
  }
  nlohmann::ordered_json json = plan_to_json(permitted_plan());
  json["sections"][1]["speed_kmh"] = "fast";
  EXPECT_EQ(mistake_in(json.dump()),
            "p.json: 'sections[1].speed_kmh' is string; expected a number");
}

TEST(Comparison, ReadsAPlanWithoutHashesAndRelease) {
  Plan plan = permitted_plan();
  plan.inputs = {{"train", "t.toml"}};
  nlohmann::ordered_json json = plan_to_json(plan);
  json.erase("release");
  Diagnostics diagnostics;
  const auto said = read_plan_json({"p.json", json.dump()}, diagnostics);
  ASSERT_TRUE(said);
  plan.inputs[0].sha256 = std::string(64, 'a');
  const PlanComparison comparison = compare_plans(*said, said_by(run_of({plan})), today);
  EXPECT_TRUE(comparison.still_holds());
  EXPECT_TRUE(says(comparison, "input", "has no hash of it"));
}

/// Two parts of a way: the vehicles of the train change at km 50.
RunPlan two_parts() {
  Plan first = permitted_plan();
  Plan second = permitted_plan();
  second.route.departs_km = first.sections.back().to_km;
  second.train.name = "Without its banker";
  return run_of({std::move(first), std::move(second)});
}

TEST(AComparisonOfARun, HoldsWhereNoPartHasChanged) {
  const PlanComparison comparison = compared(two_parts(), two_parts());
  EXPECT_TRUE(comparison.still_holds());
  EXPECT_TRUE(comparison.changes.empty()) << comparison.changes.front().text;
  EXPECT_NE(comparison_to_text(comparison, two_parts()).find("A – C"), std::string::npos);
  EXPECT_EQ(comparison_to_json(comparison, two_parts())["parts"], 2);
}

TEST(AComparisonOfARun, SaysInWhichPartSomethingHasChanged) {
  RunPlan now = two_parts();
  now.parts[1].sections[0].speed_kmh = 45;
  const PlanComparison comparison = compared(two_parts(), now);
  EXPECT_FALSE(comparison.still_holds());
  ASSERT_EQ(comparison.changes.size(), 1U);
  EXPECT_EQ(comparison.changes.front().part, 2U);
  EXPECT_NE(comparison_to_text(comparison, now).find("Part 2: km"), std::string::npos);
  EXPECT_EQ(comparison_to_json(comparison, now)["changes"][0]["part"], 2);
}

TEST(AComparisonOfARun, SaysOnceWhatIsSoOfAllParts) {
  RunPlan now = two_parts();
  for (Plan& part : now.parts) {
    part.program_version = "next";
    part.sections[0].speed_kmh = 45;
  }
  now.parts[0].notes.emplace_back("Only of the first.");
  const PlanComparison comparison = compared(two_parts(), now);
  ASSERT_EQ(comparison.changes.size(), 3U);
  EXPECT_EQ(comparison.changes[0].what, "section") << "what ends it comes first";
  EXPECT_EQ(comparison.changes[0].part, 0U);
  EXPECT_TRUE(says(comparison, "program", "Now: next."));
  for (const PlanChange& change : comparison.changes) {
    EXPECT_EQ(change.part, change.what == "note" ? 1U : 0U) << change.text;
  }
}

TEST(AComparisonOfARun, EndsWhereItHasAnotherNumberOfParts) {
  RunPlan whole = run_of({permitted_plan()});
  const PlanComparison comparison = compared(whole, two_parts());
  ASSERT_EQ(comparison.changes.size(), 1U);
  EXPECT_FALSE(comparison.still_holds());
  EXPECT_TRUE(says(comparison, "parts", "It was planned in one part, km"));
  EXPECT_TRUE(says(comparison, "parts", "and is planned in 2 parts, km"));
}

TEST(AComparisonOfARun, SaysWhichPartOfTheFileIsWrong) {
  nlohmann::ordered_json json = run_to_json(two_parts());
  json["parts"][1]["sections"][0]["speed_kmh"] = "fast";
  EXPECT_EQ(mistake_in(json.dump()),
            "p.json: 'parts[1].sections[0].speed_kmh' is string; expected a number");
  json["parts"] = nlohmann::ordered_json::array();
  EXPECT_EQ(mistake_in(json.dump()), "p.json: 'parts' is empty; a run has at least one");
  json["parts"] = 2;
  EXPECT_EQ(mistake_in(json.dump()), "p.json: 'parts' is number; expected a list");
}

}  // namespace
}  // namespace panup
