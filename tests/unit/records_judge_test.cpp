#include <gtest/gtest.h>

#include "files/read_rule_book.h"
#include "records/judge_record.h"
#include "records_sample.h"

namespace panup {
namespace {

std::string sine_rows(double mean_n, double std_n, double speed_kmh) {
  return sample_rows(
      4000,
      [=](double at_m) {
        return mean_n + std_n * std::numbers::sqrt2 * std::sin(2 * std::numbers::pi * at_m / 10);
      },
      speed_kmh);
}

MeasuredRecord on_15_kv() {
  MeasuredRecord record = sample_record();
  record.supply = EnergySupply::ac_15kv;
  return record;
}

const CriterionMargin* criterion_of(const JudgedStretch& one, RuleKind kind) {
  for (const CriterionMargin& criterion : one.judgement->criteria) {
    const auto& rules = built_in_rule_book().rules;
    const auto rule = std::ranges::find(rules, criterion.rule, &Rule::id);
    if (rule != rules.end() && rule->kind == kind) {
      return &criterion;
    }
  }
  return nullptr;
}

JudgedRecord judged(const MeasuredRecord& record, const std::string& rows,
                    const ContactLine* line = nullptr) {
  const auto made = evaluated(record, rows);
  EXPECT_TRUE(made.run) << made.mistakes;
  return judge_record(built_in_rule_book(), record, {*made.run}, line);
}

TEST(JudgedRecord, MeetsTheCriteriaWithAGoodForce) {
  const JudgedRecord good = judged(on_15_kv(), sine_rows(80, 15, 140));
  EXPECT_EQ(good.answer, RecordAnswer::met);
  ASSERT_EQ(good.stretches.size(), 3U) << "the whole and two kilometres";
  EXPECT_FALSE(good.stretches[0].stretch);
  EXPECT_TRUE(good.stretches[1].judgement->passes);
}

TEST(JudgedRecord, IsHeldAgainstTheLimitWithoutTheUncertaintyOfASimulation) {
  // 0.3 of the mean is 24 N; a simulation of 21 N would count as 25.2 N.
  const JudgedRecord below = judged(on_15_kv(), sine_rows(80, 21, 140));
  const CriterionMargin* const met = criterion_of(below.stretches[0], RuleKind::force_deviation);
  ASSERT_NE(met, nullptr);
  EXPECT_TRUE(met->met);
  EXPECT_EQ(met->text, "standard deviation 21.0 N, permitted 24.0 N");
  const JudgedRecord above = judged(on_15_kv(), sine_rows(80, 24.5, 140));
  EXPECT_FALSE(criterion_of(above.stretches[0], RuleKind::force_deviation)->met);
  EXPECT_EQ(above.answer, RecordAnswer::not_met);
}

TEST(JudgedRecord, OfOneBadKilometreDoesNotMeetTheCriteria) {
  const auto rows = sample_rows(
      8000,
      [](double at_m) {
        const double std_n = at_m >= 2000 && at_m < 3000 ? 30 : 10;
        return 80 + std_n * std::numbers::sqrt2 * std::sin(2 * std::numbers::pi * at_m / 10);
      },
      140);
  const JudgedRecord one_bad = judged(on_15_kv(), rows);
  EXPECT_TRUE(one_bad.stretches[0].judgement->passes) << "over the whole the good ones hide it";
  EXPECT_FALSE(one_bad.stretches[3].judgement->passes);
  EXPECT_EQ(one_bad.answer, RecordAnswer::not_met);
}

TEST(JudgedRecord, AsksNothingWhereTheSpeedVaries) {
  std::string rows = "m;N;km/h\n";
  for (int i = 0; i < 4000; ++i) {
    rows += fmt::format("{};80;{}\n", 0.5 * i, i < 2000 ? 140 : 140 + 0.01 * (i - 2000));
  }
  const JudgedRecord varying = judged(on_15_kv(), rows);
  EXPECT_FALSE(varying.stretches[0].judgement);
  EXPECT_NE(varying.stretches[0].not_judged.find("speed from 140 to 160 km/h"), std::string::npos)
      << varying.stretches[0].not_judged;
  EXPECT_TRUE(varying.stretches[1].judgement) << "in the first kilometre it was steady";
  EXPECT_FALSE(varying.stretches[2].judgement);
}

TEST(JudgedRecord, AsksNothingOfAStretchThatWasHardlyMeasured) {
  const JudgedRecord half = judged(on_15_kv(), sample_rows(
                                                   2900, [](double) { return 80.0; }, 140));
  EXPECT_TRUE(half.stretches[1].judgement);
  EXPECT_EQ(half.stretches[2].not_judged,
            "45 % of it was measured; asked where 50 % and more were");
}

TEST(JudgedRecord, AsksForTheWaveSpeedOnlyOnALineThatIsNamed) {
  ContactLine line;
  line.contact_wire = {.tension_n = 2000, .mass_kg_per_m = 1};  // 44.7 m/s, 161 km/h
  const auto rows = sine_rows(80, 15, 140);
  const JudgedRecord named = judged(on_15_kv(), rows, &line);
  const CriterionMargin* const wave = criterion_of(named.stretches[0], RuleKind::wave_speed_share);
  ASSERT_NE(wave, nullptr);
  EXPECT_FALSE(wave->met);
  EXPECT_EQ(criterion_of(judged(on_15_kv(), rows).stretches[0], RuleKind::wave_speed_share),
            nullptr);
  const auto said = not_judged_of_record(built_in_rule_book(), on_15_kv(), nullptr);
  EXPECT_TRUE(std::ranges::any_of(
      said, [](const std::string& text) { return text.ends_with(": no contact line is named."); }));
  EXPECT_TRUE(std::ranges::any_of(said, [](const std::string& text) {
    return text.ends_with(": uplift is not in a record of force.");
  }));
}

TEST(JudgedRecord, WithoutACriterionIsNotJudged) {
  const auto made = evaluated(on_15_kv(), sine_rows(80, 15, 140));
  RuleBook nothing;
  EXPECT_EQ(judge_record(nothing, on_15_kv(), {*made.run}, nullptr).answer,
            RecordAnswer::not_judged);
}

}  // namespace
}  // namespace panup
