#include <gtest/gtest.h>

#include <algorithm>

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
  figures.refusals = {"the line is too short"};
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

}  // namespace
}  // namespace panup
