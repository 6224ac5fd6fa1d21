#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/envelope.h"
#include "quality/scan_rounds.h"
#include "quality/speed_table.h"

/// Tables of made-up runs, whose deviation grows with speed and meets its limit of 20 N at a speed
/// that hangs on distance, direction, line, model and what was drawn.

namespace panup {
namespace {

double greatest_kmh(const SimulationRequest& request) {
  const RunningPantograph& last = request.pantographs.back();
  return 90 + last.behind_first_m / 2 - (last.knuckle == Knuckle::trailing ? 10 : 0) +
         (request.line->id == "other" ? 23 : 0) + (last.model.id == "other" ? 7 : 0) -
         (last.static_force_n - 70) / 2;
}

RunFigures run_of_table(const SimulationRequest& request) {
  RunFigures figures;
  for (std::size_t i = 0; i < request.pantographs.size(); ++i) {
    const double share =
        i + 1 < request.pantographs.size() ? 0.5 : request.speed_kmh / greatest_kmh(request);
    figures.pantographs.push_back({.mean_n = 80, .std_n = 20 * share});
  }
  figures.wave_speed_kmh = 420;
  return figures;
}

/// What tells a run from others.
std::string name_of(const SimulationRequest& request) {
  std::string name =
      fmt::format("{} {} {}", request.line->id, request.line->contact_wire.tension_deviation_n,
                  request.line->supports.front().messenger_stiffness_n_per_m);
  for (const RunningPantograph& one : request.pantographs) {
    name += fmt::format(" {} {} {} {}", one.model.id, one.static_force_n,
                        static_cast<int>(one.knuckle), one.behind_first_m);
  }
  return name + fmt::format(" {} {}", request.speed_kmh, request.settings.step_s.value_or(0));
}

class SpeedTableTest : public testing::Test {
 protected:
  SpeedTableTest() {
    line.id = "one";
    other_line.id = "other";
    TablePantograph pantograph{sample_pantograph(), 70, {Knuckle::leading, Knuckle::trailing}};
    pantograph.model.id = "one";
    request.pantographs = {pantograph, pantograph};
    request.pantographs[1].model.id = "other";
    request.pantographs[1].knuckles = {Knuckle::trailing};
    request.lines = {&line, &other_line};
    request.counts = {1, 2, 3};
    request.spacings_m = {10, 30, 60};
    request.to_kmh = 200;
    request.rules = &rules;
  }

  /// More samples than are scanned side by side, of fewer rows: a table without them has fewer
  /// runs.
  void draw_samples() {
    request.counts = {1, 3};
    request.spacings_m = {10, 60};
    request.samples = 20;
  }

  /// Runs that take 0.5 s each, unless they are kept.
  TableRuns runs() {
    return {[this](const std::vector<SimulationRequest>& requests)
                -> std::optional<std::vector<RunFigures>> {
              if (++calls == stopped_at) {
                return std::nullopt;
              }
              std::vector<RunFigures> figures;
              for (const SimulationRequest& one : requests) {
                ++asked;
                const bool is_new = names.insert(name_of(one)).second;
                twice += is_new ? 0 : 1;
                if (asked > kept) {
                  ++spent.runs;
                  spent.core_s += 0.5;
                }
                figures.push_back(run_of_table(one));
              }
              return figures;
            },
            [this] { return spent; }};
  }

  SpeedTable table() {
    auto computed = compute_speed_table(request, runs(), [this](const TableCost& cost) {
      told.push_back(cost);
      return true;
    });
    EXPECT_TRUE(computed);
    return computed.value_or(SpeedTable());
  }

  /// The same as an envelope, which looks at the same speeds.
  EnvelopeRequest envelope_of(std::size_t of_line, std::size_t pantograph, int count) const {
    EnvelopeRequest asks;
    asks.line = request.lines[of_line];
    asks.pantograph = request.pantographs[pantograph].model;
    asks.static_force_n = request.pantographs[pantograph].static_force_n;
    asks.knuckles = request.pantographs[pantograph].knuckles;
    asks.supply = request.supply;
    asks.count = count;
    asks.spacings_m = count == 1 ? std::vector<double>{0} : request.spacings_m;
    asks.speeds_kmh = scan_settings(mechanics_rule(rules), request.to_kmh).speeds_kmh;
    asks.rules = &rules;
    asks.samples = request.samples;
    asks.seed = request.seed;
    return asks;
  }

  static std::optional<std::vector<RunFigures>> plain_runs(
      const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    std::ranges::transform(requests, std::back_inserter(figures), run_of_table);
    return figures;
  }

  ContactLine line = sample_line(6);  // no run is computed: spans only cost time
  ContactLine other_line = sample_line(6);
  RuleBook rules = built_in_rule_book();
  SpeedTableRequest request;
  std::set<std::string> names;
  int twice = 0;
  std::size_t asked = 0;
  std::size_t kept = 0;  ///< so many are, those that are asked for first
  int calls = 0;
  int stopped_at = 0;
  RunsSpent spent;
  std::vector<TableCost> told;
};

TEST_F(SpeedTableTest, HasARowForEachLineModelNumberAndDistance) {
  const SpeedTable all = table();
  ASSERT_EQ(all.rows.size(), 2U * 2 * (1 + 3 + 3));
  EXPECT_EQ(all.rows[0].count, 1);
  EXPECT_EQ(all.rows[0].spacing_m, 0);
  EXPECT_EQ(all.rows[3].count, 2);
  EXPECT_EQ(all.rows[3].spacing_m, 60);
  EXPECT_EQ(all.rows[4].count, 3);
  EXPECT_EQ(all.rows[4].spacing_m, 10);
  EXPECT_EQ(all.rows[7].line, 0U);
  EXPECT_EQ(all.rows[7].pantograph, 1U);
  EXPECT_EQ(all.rows[14].line, 1U);
  EXPECT_EQ(all.rows[14].pantograph, 0U);
}

TEST_F(SpeedTableTest, HasTheSpeedsAndSamplesOfEnvelopesAtTheirDistances) {
  draw_samples();
  request.supply = EnergySupply::ac_15kv;
  request.pantographs[0].static_force_n = 95;  // outside the published range
  request.seed = 7;
  const SpeedTable all = table();
  std::size_t row = 0;
  for (const std::size_t of_line : {0U, 1U}) {
    for (const std::size_t pantograph : {0U, 1U}) {
      for (const int count : request.counts) {
        const auto envelope = compute_envelope(envelope_of(of_line, pantograph, count), plain_runs);
        ASSERT_TRUE(envelope);
        for (std::size_t d = 0; d < envelope->spacings_m.size(); ++d, ++row) {
          const PermittedSpeed& ours = all.rows[row].permitted;
          const PermittedSpeed& theirs = envelope->permitted[d];
          EXPECT_EQ(ours.speed_kmh, theirs.speed_kmh);
          EXPECT_EQ(ours.fails_at_kmh, theirs.fails_at_kmh);
          EXPECT_EQ(ours.margin, theirs.margin) << "to the last bit";
          EXPECT_EQ(ours.criterion, theirs.criterion);
          EXPECT_EQ(ours.pantograph, theirs.pantograph);
          EXPECT_EQ(ours.text, theirs.text);
          EXPECT_EQ(ours.warnings, theirs.warnings);
          EXPECT_EQ(all.rows[row].samples_kmh, envelope->samples[d].permitted_speed_kmh);
        }
      }
    }
  }
  EXPECT_EQ(row, all.rows.size());
  EXPECT_FALSE(all.rows[0].permitted.warnings.empty());
  EXPECT_NE(std::set(all.rows[0].samples_kmh.begin(), all.rows[0].samples_kmh.end()).size(), 1U);
}

TEST_F(SpeedTableTest, HasTheSpeedsOfAPlan) {
  request.pantographs.resize(1);
  request.pantographs[0].knuckles = {Knuckle::trailing};
  const SpeedTable all = table();
  SpeedQuestion question{.line = &other_line, .pantographs = {}, .supply = {}, .settings = {}};
  question.to_kmh = request.to_kmh;
  for (const double behind_m : {0.0, 30.0, 60.0}) {
    question.pantographs.push_back({.model = request.pantographs[0].model,
                                    .static_force_n = 70,
                                    .knuckle = Knuckle::trailing,
                                    .behind_first_m = behind_m});
  }
  const auto permitted = permitted_speeds({question}, rules, plain_runs);
  ASSERT_TRUE(permitted);
  const SpeedTableRow& row = all.rows[7 + 5];
  EXPECT_EQ(row.count, 3);
  EXPECT_EQ(row.permitted.speed_kmh, permitted->front().speed_kmh);
  EXPECT_EQ(row.permitted.fails_at_kmh, permitted->front().fails_at_kmh);
  EXPECT_EQ(row.permitted.margin, permitted->front().margin);
}

TEST_F(SpeedTableTest, TheWorseDirectionAndTheWorseSupportsDecide) {
  for (Support& support : line.supports) {
    support.messenger_stiffness_stated = false;
  }
  const SpeedTable all = table();
  EXPECT_EQ(all.rows[0].knuckle, Knuckle::trailing);
  EXPECT_EQ(all.rows[0].permitted.speed_kmh, 80);
  EXPECT_TRUE(all.rows[0].permitted.by_supports);
  EXPECT_FALSE(all.rows[14].permitted.by_supports) << "the other line states it";
}

TEST_F(SpeedTableTest, CountsTheSpeedsThatARowStandsOnAndDoesNotKeepThem) {
  const SpeedTable all = table();
  EXPECT_TRUE(all.rows[0].permitted.judged.empty());
  EXPECT_GT(all.rows[0].judged, 4U);
  EXPECT_GT(all.rows[0].coarse, 0U);
  EXPECT_LT(all.rows[0].coarse, all.rows[0].judged) << "the edge is run in the rule's step";
}

TEST_F(SpeedTableTest, AsksForNoRunTwice) {
  draw_samples();
  table();
  EXPECT_GT(asked, 1000U);
  EXPECT_EQ(twice, 0);
}

TEST_F(SpeedTableTest, TellsItsCostOnceAfterAFewOfItsRuns) {
  request.samples = 8;
  table();
  ASSERT_EQ(told.size(), 1U);
  const TableCost& cost = told.front();
  const auto runs = static_cast<double>(asked);
  EXPECT_LT(static_cast<double>(cost.computed), 0.1 * runs);
  EXPECT_EQ(cost.kept, 0U);
  EXPECT_EQ(cost.spent_core_s, 0.5 * static_cast<double>(cost.computed));
  EXPECT_NEAR(static_cast<double>(cost.runs()), runs, 0.15 * runs);
  // By its length and speed a run may be told to take more than 0.5 s or less.
  EXPECT_NEAR(cost.core_s(), 0.5 * runs, 0.3 * 0.5 * runs);
}

TEST_F(SpeedTableTest, WhatIsKeptCostsNothing) {
  kept = SIZE_MAX;
  table();
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told.front().computed, 0U);
  EXPECT_EQ(told.front().kept, asked);
  EXPECT_EQ(told.front().runs_left, 0U);
  EXPECT_EQ(told.front().core_s(), 0);
}

// As where a job was killed: its first runs are kept, and those that told its cost among them.
TEST_F(SpeedTableTest, WhereItGoesOnTheFirstRunsTellWhatIsLeft) {
  request.samples = 8;
  const SpeedTable whole = table();
  const std::size_t all = asked;
  const TableCost before = told.front();
  kept = all / 2;
  asked = 0;
  spent = {};
  told.clear();
  const SpeedTable rest = table();
  ASSERT_EQ(told.size(), 1U);
  const TableCost& cost = told.front();
  EXPECT_EQ(cost.kept, kept);
  EXPECT_GE(cost.computed, 128U);
  EXPECT_LE(cost.computed, 128U + 64U);
  EXPECT_EQ(cost.runs(), before.runs());
  EXPECT_NEAR(cost.core_s(), 0.25 * static_cast<double>(all), 0.1 * static_cast<double>(all));
  for (std::size_t i = 0; i < whole.rows.size(); ++i) {
    EXPECT_EQ(rest.rows[i].samples_kmh, whole.rows[i].samples_kmh);
  }
}

TEST_F(SpeedTableTest, WhereTheCostIsTooHighItEnds) {
  draw_samples();
  EXPECT_FALSE(compute_speed_table(request, runs(), [](const TableCost&) { return false; }));
  EXPECT_LT(asked, 1000U);
  // Also where only the runs after those that tell it are missing.
  kept = asked;
  asked = 0;
  spent = {};
  EXPECT_FALSE(compute_speed_table(request, runs(), [](const TableCost&) { return false; }));
  EXPECT_GT(asked, kept);
  EXPECT_LE(asked, kept + 128 + 64);
}

TEST_F(SpeedTableTest, WhereRunsAreStoppedThereIsNone) {
  request.samples = 3;
  table();
  const int all = calls;
  for (const int at : {1, 2, all / 2, all}) {
    calls = 0;
    stopped_at = at;
    EXPECT_FALSE(compute_speed_table(request, runs())) << at;
  }
}

TEST_F(SpeedTableTest, SaysWhatWasAskedAndWhatNot) {
  request.samples = 1;
  const SpeedTable all = table();
  EXPECT_FALSE(all.criteria.empty());
  EXPECT_EQ(all.tolerances.size(), 8U);
  ASSERT_EQ(all.wave_speeds_kmh.size(), 2U);
  EXPECT_NEAR(all.wave_speeds_kmh[1], 438.2, 0.05);
  EXPECT_EQ(std::set(all.not_judged.begin(), all.not_judged.end()).size(), all.not_judged.size());
  EXPECT_TRUE(std::ranges::any_of(all.not_judged, [](const std::string& words) {
    return words.find("system") != std::string::npos;
  }));
}

}  // namespace
}  // namespace panup
