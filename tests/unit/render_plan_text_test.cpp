#include <gtest/gtest.h>

#include <sstream>

#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/plan_text.h"
#include "render/why_not.h"
#include "sample_plan.h"

namespace panup {
namespace {

std::size_t count_of(const std::string& text, std::string_view part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

void expect_within_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(columns_of(line), text_columns) << line;
    EXPECT_FALSE(line.ends_with(' ')) << '"' << line << '"';
  }
  EXPECT_TRUE(text.ends_with('\n'));
}

TEST(PlanText, FitsItsWidthWhateverThePlan) {
  for (const auto& [name, plan] : all_sample_plans()) {
    SCOPED_TRACE(name);
    expect_within_width(plan_to_text(plan));
  }
}

TEST(PlanText, MarksInventedDataFirst) {
  Plan plan = sample_plan();
  EXPECT_TRUE(plan_to_text(plan).starts_with("DEMO – invented data\n"));
  plan.train.invented = plan.route.invented = plan.conditions.invented = false;
  EXPECT_FALSE(has(plan_to_text(plan), "DEMO"));
}

TEST(PlanText, SketchesTheTrainWithWhatIsUpAboveWhatIsDown) {
  const std::string text = plan_to_text(sample_plan());
  EXPECT_TRUE(
      has(text,
          "  up       1.1                             2.1\n"
          "  down         1.2 1.3 1.4    2.4x 2.3 2.2\n"
          "  <==    [ 1 Q62 104 ]------[ 2 Q62 109 ]-------( petrol in tank wagons, DANGEROUS,"
          " 388.8 m )\n"))
      << text;
}

TEST(PlanText, SaysAFindingOnceWithItsStretchesAndItsSource) {
  const std::string text = plan_to_text(sample_plan());
  EXPECT_EQ(count_of(text, "1.3 alone."), 1U);
  EXPECT_TRUE(has(text, "km 45.0–60.0, 60.3–70.0 and 70.4–82.5: Locomotive 1"));
  EXPECT_TRUE(has(text, "table 4.2.13"));
  EXPECT_TRUE(has(text, "(from memory)"));
}

TEST(PlanText, TheStrongestFindingComesFirst) {
  const std::string text = plan_to_text(refused_plan());
  const std::size_t forbidden = text.find("  forbidden: ");
  const std::size_t consent = text.find("  consent needed: ");
  const std::size_t resort = text.find("  last resort: ");
  const std::size_t limit = text.find("  speed limit: ");
  EXPECT_LT(forbidden, consent);
  EXPECT_LT(consent, resort);
  EXPECT_LT(resort, limit);
  EXPECT_NE(limit, std::string::npos);
}

TEST(PlanText, ARefusalSaysWhere) {
  const std::string text = plan_to_text(refused_plan());
  EXPECT_TRUE(has(text, "ANSWER   No permitted configuration on km 70.4–82.5; consent of the"));
  EXPECT_TRUE(has(text, "NONE PERMITTED"));
  EXPECT_FALSE(has(text, "Running time")) << "a plan that cannot be run has none";
  EXPECT_TRUE(has(plan_to_text(consent_plan()), "ANSWER   Consent needed on km 20.12–45.0"));
}

TEST(PlanText, ALastResortAndAnExposedLoadAreInTheHeadline) {
  const std::string text = plan_to_text(sample_plan());
  EXPECT_TRUE(has(text, "ANSWER   Permitted, last resort accepted on km 0.0–12.4.\n"));
  EXPECT_TRUE(has(text, "         The dangerous load (petrol in tank wagons) is exposed"));
  EXPECT_TRUE(has(plan_to_text(unit_pair_plan()), "ANSWER   Permitted.\n         Running time"));
}

TEST(PlanText, SaysWhatTheOfficeStatesAndWhatItDoesNot) {
  Plan plan = unit_pair_plan();
  EXPECT_TRUE(has(plan_to_text(plan), "Issued   not stated: train number, date or days, issue,"));
  plan.train.release.train_number = "60412";
  plan.train.release.date = "2031-05-12";
  plan.train.release.issue = 3;
  EXPECT_TRUE(
      has(plan_to_text(plan),
          "Issued   train number 60412, date 2031-05-12, issue 3; not stated: holds until,"));
}

TEST(PlanText, APracticeThatIsKeptAndOneThatIsNotHaveTwoLabels) {
  Plan plan = unit_pair_plan();
  ASSERT_EQ(plan.sections[0].findings.size(), 3U);
  plan.sections[0].findings[1].kept = false;
  const std::string text = plan_to_text(plan);
  const std::size_t departed = text.find("  not as prescribed: prescribed-position");
  const std::size_t kept = text.find("  as prescribed: prescribed-position");
  EXPECT_LT(departed, kept) << "what is not kept comes first";
  EXPECT_NE(kept, std::string::npos);
}

TEST(PlanText, WhyThereIsARuleStandsOnceForEachRule) {
  Plan plan = unit_pair_plan();
  for (PlannedSection& section : plan.sections) {
    for (Finding& finding : section.findings) {
      finding.because = finding.rule == "prescribed-position" ? "Dust flies backwards." : "";
    }
  }
  ASSERT_EQ(plan.sections[0].findings.size(), 3U);
  plan.sections[0].findings[1].kept = false;  // two groups of one rule
  const std::string text = plan_to_text(plan);
  const std::size_t first = text.find("    why: Dust flies backwards.\n");
  ASSERT_NE(first, std::string::npos);
  EXPECT_EQ(text.find("why: ", first + 10), std::string::npos);
}

TEST(PlanText, SaysInOneLineWhatChangesNothing) {
  EXPECT_TRUE(
      has(plan_to_text(huge_plan()), "Nothing changes if it is 1.3, 1.4, 2.3, 2.4, 3.1 or 3.2.\n"));
}

TEST(PlanText, CarriesTheCautions) {
  for (const auto& [name, plan] : all_sample_plans()) {
    EXPECT_TRUE(has(plan_to_text(plan), "Nobody goes on a roof or near a live wire")) << name;
  }
}

TEST(PlanText, NoNameReachesTheTerminalAsAnEscapeSequence) {
  Plan plan = sample_plan();
  plan.train.name = "Petrol\x1b[2J";
  plan.train.operated_by = "Ardel\nHaulage";
  plan.instructions[0].text += "\x1b]0;x\x07";
  plan.notes.emplace_back("a\x1b[31mnote");
  EXPECT_FALSE(has(plan_to_text(plan), "\x1b"));
  EXPECT_FALSE(has(plan_to_text(plan), "\x07"));
}

TEST(WhyNotText, AnswersWithCostAndFindings) {
  const std::string text = why_not_to_text(sample_plan(), sample_why_not());
  expect_within_width(text);
  EXPECT_TRUE(has(text, "Asked    1.4 and 2.1 up at km 14.5"));
  EXPECT_TRUE(has(text, "Planned  1.1 and 2.1 up"));
  EXPECT_TRUE(has(text, "40 km/h, 6 min more over the whole route"));
  EXPECT_TRUE(has(text, "consent needed: design-spacing"));
  EXPECT_TRUE(has(text, "Nobody goes on a roof"));
}

TEST(WhyNotText, ARuledOutOneHasNoSpeed) {
  WhyNot why = sample_why_not();
  why.answer = Answer::none;
  why.speed_kmh = 0;
  why.extra_time_s.reset();
  EXPECT_FALSE(has(why_not_to_text(sample_plan(), why), "Speed"));
}

}  // namespace
}  // namespace panup
