#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/criteria.h"

namespace panup {
namespace {

/// Figures that meet every criterion of the book at 120 km/h on AC: the corridor of the mean is
/// 66.8 to 96.8 N there.
RunFigures good_figures() {
  RunFigures figures;
  figures.pantographs = {{.mean_n = 80, .std_n = 10, .max_n = 110, .min_n = 50},
                         {.mean_n = 80, .std_n = 10, .max_n = 110, .min_n = 50}};
  figures.wave_speed_kmh = 420;
  figures.max_support_uplift_mm = 50;
  return figures;
}

RunFacts facts() {
  return {.speed_kmh = 120,
          .wave_speed_kmh = 420,
          .supply = EnergySupply::ac_15kv,
          .uplift_space_mm = 160,
          .uplift_limited_by_design = false};
}

Judgement judged(const RunFigures& figures, const RunFacts& at = facts()) {
  return judge_run(built_in_rule_book(), at, figures);
}

TEST(Criteria, AGoodRunPassesAndItsLeastMarginDecides) {
  const Judgement judgement = judged(good_figures());
  EXPECT_TRUE(judgement.passes);
  // Uplift: 2 x 50 of 160 mm leave 0.375; the mean lies 13.2 N of 30 above the lower curve.
  EXPECT_EQ(judgement.criterion, "support-uplift");
  EXPECT_NEAR(judgement.margin, 0.375, 1e-12);
  EXPECT_EQ(judgement.pantograph, 0);
}

// EN 50367 (from memory): AC up to 200 km/h between 0.00047 v² + 60 and 0.00047 v² + 90 N.
TEST(Criteria, MeanForceKeepsToTheCorridorOfTheSystem) {
  RunFigures figures = good_figures();
  figures.pantographs[1].mean_n = 0.00047 * 120 * 120 + 60 - 0.1;
  Judgement judgement = judged(figures);
  EXPECT_FALSE(judgement.passes);
  EXPECT_EQ(judgement.criterion, "mean-force-ac");
  EXPECT_EQ(judgement.pantograph, 2);
  figures.pantographs[1].mean_n = 0.00047 * 120 * 120 + 90 + 0.1;
  EXPECT_EQ(judged(figures).criterion, "mean-force-ac");
  EXPECT_FALSE(judged(figures).passes);
  figures.pantographs[1].mean_n = 0.00047 * 120 * 120 + 90 - 0.1;
  EXPECT_TRUE(judged(figures).passes);
}

TEST(Criteria, MeanForceIsNotAskedWithoutASystem) {
  RunFigures figures = good_figures();
  figures.pantographs[0].mean_n = 200;
  RunFacts at = facts();
  at.supply.reset();
  EXPECT_NE(judged(figures, at).criterion, "mean-force-ac");
  const auto words = not_judged(built_in_rule_book(), std::nullopt, sample_line(10));
  EXPECT_TRUE(std::ranges::any_of(
      words, [](const std::string& one) { return one.starts_with("mean-force-ac:"); }));
}

// Regulation 1301/2014, 4.2.12 (from memory): no more than 0.3 of the mean; EN 50318 (from memory):
// the simulation may be out by a fifth.
TEST(Criteria, DeviationIsRaisedByTheUncertaintyOfTheSimulation) {
  RunFigures figures = good_figures();
  figures.pantographs[0].std_n = 0.3 * 80 / 1.2 - 0.01;
  EXPECT_TRUE(judged(figures).passes);
  figures.pantographs[0].std_n = 0.3 * 80 / 1.2 + 0.01;
  const Judgement judgement = judged(figures);
  EXPECT_FALSE(judgement.passes);
  EXPECT_EQ(judgement.criterion, "force-deviation");
  EXPECT_EQ(judgement.pantograph, 1);
}

/// A book in which only the rule named is on among the criteria.
RuleBook only(const std::string& id) {
  RuleBook book = built_in_rule_book();
  for (Rule& rule : book.rules) {
    rule.on = rule.id == id;
  }
  return book;
}

// EN 50119 (from memory): 300 N up to 200 km/h, above it 350 N on AC and 400 N on DC.
TEST(Criteria, StatisticalMaximumHangsOnSpeedAndSystem) {
  RunFigures figures = good_figures();
  figures.pantographs = {{.mean_n = 150, .std_n = 60}};  // 330 N
  RunFacts at = facts();
  at.speed_kmh = 200;
  EXPECT_FALSE(judge_run(only("statistical-maximum"), at, figures).passes);
  at.speed_kmh = 201;
  EXPECT_TRUE(judge_run(only("statistical-maximum"), at, figures).passes);
  EXPECT_TRUE(judge_run(only("statistical-maximum-ac-fast"), at, figures).passes);
  figures.pantographs[0].std_n = 70;  // 360 N
  EXPECT_FALSE(judge_run(only("statistical-maximum-ac-fast"), at, figures).passes);
  at.supply = EnergySupply::dc_3kv;
  EXPECT_TRUE(judge_run(only("statistical-maximum-dc-fast"), at, figures).passes);
  EXPECT_TRUE(judge_run(only("statistical-maximum-ac-fast"), at, figures).passes);
}

// EN 50119 (from memory): above 0, and 0 is not above 0.
TEST(Criteria, StatisticalMinimumMustStayAboveNothing) {
  RunFigures figures = good_figures();
  figures.pantographs = {{.mean_n = 90, .std_n = 30}};
  EXPECT_FALSE(judge_run(only("statistical-minimum"), facts(), figures).passes);
  figures.pantographs[0].std_n = 29.9;
  EXPECT_TRUE(judge_run(only("statistical-minimum"), facts(), figures).passes);
}

TEST(Criteria, ContactLossCountsByShareAndByItsLongest) {
  RunFigures figures = good_figures();
  figures.pantographs[1].contact_loss_percent = 0.05;
  figures.pantographs[1].longest_contact_loss_ms = 4;
  EXPECT_TRUE(judge_run(only("contact-loss"), facts(), figures).passes);
  figures.pantographs[1].longest_contact_loss_ms = 6;
  EXPECT_FALSE(judge_run(only("contact-loss"), facts(), figures).passes);
  figures.pantographs[1].longest_contact_loss_ms = 4;
  figures.pantographs[1].contact_loss_percent = 0.2;
  EXPECT_FALSE(judge_run(only("contact-loss"), facts(), figures).passes);
}

// EN 50119 (from memory): twice the uplift, 1.5 times where uplift is limited by design.
TEST(Criteria, UpliftNeedsItsSpaceTwiceOrOnceAndAHalfWhereLimited) {
  RunFigures figures = good_figures();
  figures.max_support_uplift_mm = 81;
  RunFacts at = facts();
  EXPECT_FALSE(judged(figures, at).passes);
  at.uplift_limited_by_design = true;
  EXPECT_TRUE(judged(figures, at).passes);
  at.uplift_limited_by_design = false;
  at.uplift_space_mm.reset();
  EXPECT_TRUE(judged(figures, at).passes);
  const auto words = not_judged(built_in_rule_book(), EnergySupply::ac_15kv, sample_line(10));
  ASSERT_EQ(words.size(), 1U);
  EXPECT_TRUE(words.front().starts_with("support-uplift:"));
}

// EN 50119 (from memory): 70 % of the wave speed.
TEST(Criteria, NoRunIsNeededToRefuseWhatIsTooNearTheWaveSpeed) {
  RunFacts at = facts();
  at.speed_kmh = 0.7 * 420 + 1;
  const auto judgement = judge_without_run(built_in_rule_book(), at);
  ASSERT_TRUE(judgement);
  EXPECT_FALSE(judgement->passes);
  EXPECT_EQ(judgement->criterion, "wave-speed-share");
  at.speed_kmh = 0.7 * 420 - 1;
  EXPECT_FALSE(judge_without_run(built_in_rule_book(), at));
}

TEST(Criteria, WaveSpeedIsThatOfTheRunsOwnWeather) {
  RunFigures figures = good_figures();
  figures.wave_speed_kmh = 120 / 0.7 - 1;
  EXPECT_EQ(judged(figures).criterion, "wave-speed-share");
  EXPECT_FALSE(judged(figures).passes);
}

TEST(Criteria, ARefusedRunDoesNotPassAndSaysWhy) {
  RunFigures figures;
  figures.refusals = {Sentence("the line is too short")};
  const Judgement judgement = judged(figures);
  EXPECT_FALSE(judgement.passes);
  EXPECT_TRUE(judgement.refused);
  EXPECT_EQ(judgement.text, "the line is too short");
}

TEST(Criteria, WhatIsTurnedOffIsNotAskedAndSaid) {
  RuleBook book = built_in_rule_book();
  for (Rule& rule : book.rules) {
    rule.on = rule.on && rule.kind != RuleKind::force_deviation;
  }
  RunFigures figures = good_figures();
  figures.pantographs[0].std_n = 24;
  EXPECT_TRUE(judge_run(book, facts(), figures).passes);
  ContactLine line = sample_line(10);
  line.uplift_space_mm = 200;
  const auto words = not_judged(book, EnergySupply::ac_15kv, line);
  ASSERT_EQ(words.size(), 1U);
  EXPECT_TRUE(words.front().starts_with("force-deviation: turned off"));
}

TEST(Criteria, MeanForceAndWaveSpeedDoNotCountAsSwinging) {
  RunFigures figures = good_figures();
  figures.pantographs[0].mean_n = 67;
  const Judgement judgement = judged(figures);
  EXPECT_EQ(judgement.criterion, "mean-force-ac");
  EXPECT_NEAR(judgement.swinging_margin, 0.375, 1e-12);
}

// Loss comes from one speed to the next. How near it is tells the unfiltered force.
TEST(Criteria, WithoutLossTheLeastForceTellsHowFarContactLossIs) {
  RunFigures figures = good_figures();
  figures.pantographs[1].least_unfiltered_n = 8;
  EXPECT_NEAR(judged(figures).swinging_margin, 0.1, 1e-12) << "8 of 80 N";
  EXPECT_NEAR(judged(figures).margin, 0.375, 1e-12) << "the criterion itself is met as well";
  figures.pantographs[1].contact_loss_percent = 0.2;
  figures.pantographs[1].longest_contact_loss_ms = 4;
  EXPECT_EQ(judged(figures).swinging_margin, -1) << "twice what is permitted";
}

TEST(Criteria, WhatIsRefusedIsSaidByTheRuleOfTheMechanics) {
  const Judgement judgement = judged(RunFigures{});
  EXPECT_EQ(judgement.criterion, "speed-by-mechanics");
  EXPECT_EQ(judgement.kind, RuleKind::speed_by_mechanics);
  EXPECT_EQ(judgement.margin, -1);
  EXPECT_EQ(judgement.text, "no run");
  EXPECT_EQ(judge_run(only("contact-loss"), facts(), RunFigures{}).criterion, "");
}

/// What one criterion says of figures of which only the first pantograph's matter.
Judgement by(const std::string& id, PantographFigures figures, double speed_kmh = 120) {
  RunFacts at = facts();
  at.speed_kmh = speed_kmh;
  RunFigures run;
  run.pantographs = {figures};
  run.wave_speed_kmh = 420;
  run.max_support_uplift_mm = 60;
  return judge_run(only(id), at, run);
}

TEST(Criteria, TheMarginOfTheMeanIsAShareOfTheCorridor) {
  // At 120 km/h 66.768 to 96.768 N.
  EXPECT_NEAR(by("mean-force-ac", {.mean_n = 80}).margin, 13.232 / 30, 1e-12);
  EXPECT_NEAR(by("mean-force-ac", {.mean_n = 90}).margin, 6.768 / 30, 1e-12);
  EXPECT_EQ(by("mean-force-ac", {.mean_n = 80}).text,
            "mean contact force 80 N, permitted 67 to 97 N");
  EXPECT_EQ(by("mean-force-ac", {.mean_n = 500}).margin, -1) << "and no less than that";
}

TEST(Criteria, ACorridorOfNoWidthIsTakenAsOneOfANewton) {
  RuleBook book = only("mean-force-ac");
  auto& numbers = std::ranges::find(book.rules, std::string("mean-force-ac"), &Rule::id)->numbers;
  numbers["upper_n"] = 60.5;
  RunFigures run;
  run.pantographs = {{.mean_n = 67.018}};  // in the middle of 66.768 to 67.268 N
  EXPECT_NEAR(judge_run(book, facts(), run).margin, 0.25, 1e-12);
}

TEST(Criteria, DeviationAndLimitAreToldApartInWords) {
  // The limit is 0.3 x 80 = 24 N; a deviation of 20 N is raised to just that.
  const auto text = [](double raised_n) {
    return by("force-deviation", {.mean_n = 80, .std_n = raised_n / 1.2}).text;
  };
  EXPECT_EQ(text(12),
            "standard deviation 10.0 N, with the simulation's uncertainty 12.0 N, permitted 24.0 "
            "N");
  EXPECT_EQ(text(24.105),
            "standard deviation 20.1 N, with the simulation's uncertainty 24.1 N, permitted 24.0 "
            "N");
  EXPECT_EQ(text(24.052),
            "standard deviation 20.0 N, with the simulation's uncertainty 24.05 N, permitted "
            "24.00 N");
  EXPECT_EQ(text(23.9962),
            "standard deviation 20.0 N, with the simulation's uncertainty 23.996 N, permitted "
            "24.000 N");
  EXPECT_EQ(text(24.0002),
            "standard deviation 20.0 N, with the simulation's uncertainty 24.000 N, permitted "
            "24.000 N")
      << "no more than three decimals";
  EXPECT_EQ(by("force-deviation", {.mean_n = 0, .std_n = 1}).margin, -1);
}

TEST(Criteria, MarginsAreWhatIsLeftToTheLimitAsAShareOfIt) {
  // 1.2 x 10 of 0.3 x 80 N: half; 80 + 3 x 40 of 300 N: a third; 60 - 40 of 160 mm: a quarter.
  EXPECT_NEAR(by("force-deviation", {.mean_n = 80, .std_n = 10}).margin, 0.5, 1e-12);
  EXPECT_NEAR(by("statistical-maximum", {.mean_n = 80, .std_n = 40}).margin, 1 / 3.0, 1e-12);
  EXPECT_EQ(by("statistical-maximum", {.mean_n = 80, .std_n = 40}).text,
            "statistical maximum 200 N, permitted 300 N");
  EXPECT_EQ(by("statistical-maximum", {.mean_n = 80, .std_n = 40}).greatest_force_n, 300);
  EXPECT_NEAR(by("support-uplift", {.mean_n = 80}).margin, 0.25, 1e-12);
  EXPECT_EQ(by("support-uplift", {.mean_n = 80}).text,
            "uplift at supports 60 mm, 2 times of which must fit in 160 mm");
  // 70 % of 420 km/h are 294 km/h; half of that is left at 147 km/h.
  EXPECT_NEAR(by("wave-speed-share", {.mean_n = 80}, 147).margin, 0.5, 1e-12);
  EXPECT_EQ(by("wave-speed-share", {.mean_n = 80}, 147).text,
            "speed 147 km/h, permitted 294 km/h, which is 70 % of the wave speed");
  EXPECT_EQ(by("wave-speed-share", {.mean_n = 80}, 294).passes, true) << "just so is permitted";
}

TEST(Criteria, TheMarginOfTheMinimumIsAShareOfTheMean) {
  EXPECT_NEAR(by("statistical-minimum", {.mean_n = 80, .std_n = 20}).margin, 0.25, 1e-12);
  EXPECT_EQ(by("statistical-minimum", {.mean_n = 80, .std_n = 20}).text,
            "statistical minimum 20.0 N, must stay above 0 N");
  EXPECT_EQ(by("statistical-minimum", {.mean_n = 0, .std_n = 20}).margin, -1);
  RuleBook book = only("statistical-minimum");
  std::ranges::find(book.rules, std::string("statistical-minimum"), &Rule::id)->numbers["above_n"] =
      10;
  RunFigures run;
  run.pantographs = {{.mean_n = 80, .std_n = 20}};
  EXPECT_NEAR(judge_run(book, facts(), run).margin, 0.125, 1e-12);
}

TEST(Criteria, OfContactLossTheNearerOfShareAndLongestCounts) {
  const auto loss = [](double percent, double longest_ms) {
    return by(
        "contact-loss",
        {.mean_n = 80, .contact_loss_percent = percent, .longest_contact_loss_ms = longest_ms});
  };
  EXPECT_NEAR(loss(0.05, 1).margin, 0.5, 1e-12);
  EXPECT_NEAR(loss(0.01, 4).margin, 0.2, 1e-12);
  EXPECT_EQ(loss(0, 0).margin, 1);
  EXPECT_EQ(loss(0.05, 4).text,
            "contact lost for 0.05 % of the time and for 4 ms at the longest, permitted 0.1 % and "
            "5 ms");
  RuleBook book = only("contact-loss");
  std::ranges::find(book.rules, std::string("contact-loss"), &Rule::id)
      ->numbers["greatest_percent"] = 0;
  RunFigures run;
  run.pantographs = {{.contact_loss_percent = 0.01, .longest_contact_loss_ms = 1}};
  EXPECT_EQ(judge_run(book, facts(), run).margin, -1) << "of nothing that is permitted";
}

TEST(Criteria, TheFirstOfEqualsIsNamed) {
  RunFigures run;
  run.pantographs = {{.mean_n = 80, .std_n = 10}, {.mean_n = 80, .std_n = 10}};
  EXPECT_EQ(judge_run(only("force-deviation"), facts(), run).pantograph, 1);
}

TEST(Criteria, WithoutARuleOnTheWaveSpeedEverySpeedNeedsARun) {
  RunFacts at = facts();
  at.speed_kmh = 419;
  EXPECT_TRUE(judge_without_run(built_in_rule_book(), at));
  EXPECT_FALSE(judge_without_run(only("contact-loss"), at));
}

// c = sqrt(T / m'): 20 kN and 1.35 kg/m.
TEST(Criteria, FactsAreThoseOfTheLine) {
  ContactLine line = sample_line(10);
  line.uplift_space_mm = 150;
  line.uplift_limited_by_design = true;
  const RunFacts of_line = facts_of(line, EnergySupply::dc_3kv, 80);
  EXPECT_NEAR(of_line.wave_speed_kmh, 3.6 * std::sqrt(20000 / 1.35), 1e-9);
  EXPECT_EQ(of_line.speed_kmh, 80);
  EXPECT_EQ(of_line.supply, EnergySupply::dc_3kv);
  EXPECT_EQ(of_line.uplift_space_mm, 150);
  EXPECT_TRUE(of_line.uplift_limited_by_design);
}

std::vector<std::string> ids_of(const std::vector<std::string>& words) {
  std::vector<std::string> ids;
  for (const std::string& one : words) {
    ids.push_back(one.substr(0, one.find(':')));
  }
  return ids;
}

TEST(Criteria, InWordsAreThoseThatSpeakOfTheSystem) {
  const RuleBook book = built_in_rule_book();
  EXPECT_EQ(ids_of(criteria_in_words(book, EnergySupply::dc_3kv)),
            (std::vector<std::string>{"mean-force-3kv", "force-deviation", "statistical-maximum",
                                      "statistical-maximum-dc-fast", "statistical-minimum",
                                      "contact-loss", "support-uplift", "wave-speed-share"}));
  EXPECT_EQ(
      ids_of(criteria_in_words(book, std::nullopt)),
      (std::vector<std::string>{"force-deviation", "statistical-maximum", "statistical-minimum",
                                "contact-loss", "support-uplift", "wave-speed-share"}))
      << "without a system, what holds on all of them";
  EXPECT_EQ(criteria_in_words(only("statistical-minimum"), std::nullopt),
            (std::vector<std::string>{
                "statistical-minimum: Mean minus three standard deviations of the contact force "
                "stays above 0. [EN 50119 (from memory, to be confirmed)]"}));
}

TEST(Criteria, WithoutASystemWhatHangsOnItIsNotJudged) {
  ContactLine line = sample_line(10);
  line.uplift_space_mm = 150;
  EXPECT_EQ(ids_of(not_judged(built_in_rule_book(), std::nullopt, line)),
            (std::vector<std::string>{"mean-force-ac", "mean-force-ac-fast", "mean-force-3kv",
                                      "mean-force-1500v", "statistical-maximum-ac-fast",
                                      "statistical-maximum-dc-fast"}));
  EXPECT_TRUE(not_judged(built_in_rule_book(), EnergySupply::ac_15kv, line).empty());
}

}  // namespace
}  // namespace panup
