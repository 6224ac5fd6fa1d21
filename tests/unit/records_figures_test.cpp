#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>
#include <span>

#include "dynamics/evaluation.h"
#include "records_sample.h"

namespace panup {
namespace {

constexpr double pi = std::numbers::pi;

TEST(MeasuredFigures, OfAMeanAndASineAreThatMeanAndTheAmplitudeOverRootTwo) {
  // Whole periods of 10 m, twenty rows each.
  const auto made = evaluated(sample_record(), sample_rows(4000, [](double at_m) {
                                return 100 + 20 * std::sin(2 * pi * at_m / 10);
                              }));
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredFigures& whole = made.run->pantographs.front().whole;
  EXPECT_NEAR(whole.mean_n, 100, 1e-6);
  EXPECT_NEAR(whole.std_n, 20 / std::numbers::sqrt2, 1e-6);
  EXPECT_NEAR(whole.statistical_max_n(), 100 + 60 / std::numbers::sqrt2, 1e-5);
  EXPECT_NEAR(whole.statistical_min_n(), 100 - 60 / std::numbers::sqrt2, 1e-5);
  EXPECT_NEAR(whole.max_n, 120, 1e-5);
  EXPECT_NEAR(whole.min_n, 80, 1e-5);
  EXPECT_NEAR(whole.max_at_m, 2.5, 1e-9);
  EXPECT_NEAR(whole.min_at_m, 7.5, 1e-9);
  EXPECT_NEAR(whole.length_m, 2000, 1e-9);
}

TEST(MeasuredFigures, AreThoseOfTwoPassesOverAllRows) {
  std::mt19937 chance(7);
  std::normal_distribution<double> force(1e3, 30);
  std::vector<double> forces;
  ForceSum sum(0);
  for (int i = 0; i < 20000; ++i) {
    forces.push_back(force(chance));
    sum.add({.chainage_m = 0.5 * i,
             .force_n = forces.back(),
             .recorded_n = forces.back(),
             .speed_kmh = 100,
             .lasts_s = 0.01,
             .length_m = 0.5});
  }
  const double mean = std::accumulate(forces.begin(), forces.end(), 0.0) / 20000;
  double squares = 0;
  for (const double one : forces) {
    squares += (one - mean) * (one - mean);
  }
  const MeasuredFigures figures = sum.figures();
  EXPECT_NEAR(figures.mean_n, mean, 1e-9);
  EXPECT_NEAR(figures.std_n, std::sqrt(squares / 20000), 1e-9);
  EXPECT_EQ(figures.max_n, std::ranges::max(forces));
  EXPECT_EQ(figures.min_n, std::ranges::min(forces));
}

TEST(ContactLosses, LastAsLongAsTheForceIsGone) {
  // At 144 km/h half a metre takes 12.5 ms.
  const auto made = evaluated(sample_record(), sample_rows(200, [](double at_m) {
                                const bool lost = (at_m >= 10 && at_m < 12) || at_m == 30;
                                return lost ? 0.0 : 80.0;
                              }));
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredPantograph& one = made.run->pantographs.front();
  EXPECT_EQ(one.whole.contact_losses, 2);
  EXPECT_NEAR(one.whole.longest_contact_loss_ms, 50, 1e-9);
  EXPECT_NEAR(one.whole.contact_loss_percent, 100 * 5.0 / 200, 1e-9);
  ASSERT_EQ(one.losses.size(), 2U);
  EXPECT_DOUBLE_EQ(one.losses[0].from_m, 10);
  EXPECT_DOUBLE_EQ(one.losses[0].to_m, 11.5);
  EXPECT_DOUBLE_EQ(one.losses[1].from_m, 30);
}

TEST(ContactLosses, BeginAtTheForceThatTheRecordStates) {
  MeasuredRecord record = sample_record();
  const auto rows = sample_rows(100, [](double at_m) { return at_m < 5 ? 3.0 : 80.0; });
  EXPECT_EQ(evaluated(record, rows).run->pantographs.front().whole.contact_losses, 0);
  record.loss_at_or_below_n = 3;
  EXPECT_EQ(evaluated(record, rows).run->pantographs.front().whole.contact_losses, 1);
}

TEST(ContactLosses, OnBothSidesOfAGapAreTwo) {
  const auto made =
      evaluated(sample_record(), "m;N;km/h\n0;90;144\n0.5;0;144\n5;0;144\n5.5;90;144\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredFigures& whole = made.run->pantographs.front().whole;
  EXPECT_EQ(whole.contact_losses, 2);
  EXPECT_NEAR(whole.longest_contact_loss_ms, 12.5, 1e-9);
  const std::vector<RecordStretch>& losses = made.run->pantographs.front().losses;
  ASSERT_EQ(losses.size(), 2U);
  EXPECT_DOUBLE_EQ(losses[0].to_m, 0.5);
  EXPECT_DOUBLE_EQ(losses[1].from_m, 5);
}

TEST(ContactLosses, BeyondThoseThatAreKeptDoNotLengthenTheLastOne) {
  const int losses = static_cast<int>(most_losses_kept) + 3;
  // Of every three rows two are lost.
  const auto made = evaluated(sample_record(), sample_rows(3 * losses, [](double at_m) {
                                return std::lround(2 * at_m) % 3 == 0 ? 80.0 : 0.0;
                              }));
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredPantograph& one = made.run->pantographs.front();
  EXPECT_EQ(one.whole.contact_losses, losses);
  ASSERT_EQ(one.losses.size(), most_losses_kept);
  EXPECT_DOUBLE_EQ(one.losses.back().to_m - one.losses.back().from_m, 0.5);
}

TEST(Gaps, AreStepsOfMoreThanOneAndAHalfButForRounding) {
  for (const auto& [step_m, gaps] : {std::pair{0.755, 0}, std::pair{0.77, 1}}) {
    for (const double way : {1.0, -1.0}) {
      std::string rows = "m;N;km/h\n";
      for (const double at_m : {0.0, 0.5, 0.5 + step_m, 1 + step_m}) {
        rows += fmt::format("{:.3f};80;144\n", 100 + way * at_m);
      }
      const auto made = evaluated(sample_record(), rows);
      ASSERT_TRUE(made.run) << made.mistakes;
      const RowSteps& steps = made.run->pantographs.front().steps;
      EXPECT_EQ(steps.gaps, gaps) << step_m << ", towards " << way;
      EXPECT_NEAR(steps.gap_length_m, gaps * step_m, 1e-9);
      EXPECT_EQ(steps.steps, 3 - gaps);
      EXPECT_EQ(steps.short_steps, 0);
    }
  }
}

TEST(Gaps, BeyondThoseThatAreKeptAreCounted) {
  std::string rows = "m;N;km/h\n";
  const int gaps = static_cast<int>(most_gaps_kept) + 5;
  for (int i = 0; i <= gaps; ++i) {
    rows += fmt::format("{};80;144\n", 10 * i);
  }
  const auto made = evaluated(sample_record(), rows);
  ASSERT_TRUE(made.run) << made.mistakes;
  const RowSteps& steps = made.run->pantographs.front().steps;
  EXPECT_EQ(steps.gaps, gaps);
  EXPECT_EQ(steps.places.size(), most_gaps_kept);
}

TEST(Gaps, AreNoRowsThatStandTooNear) {
  const auto made =
      evaluated(sample_record(), "m;N;km/h\n0;80;144\n0.5;80;144\n0.7;80;144\n1.2;80;144\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_EQ(made.run->pantographs.front().steps.short_steps, 1);
}

std::string rows_by_time(double step_s, int count, const std::function<double(double)>& force_at) {
  std::string text = "s;N;km/h\n";
  for (int i = 0; i < count; ++i) {
    text += fmt::format("{:.5f};{:.9f};144\n", step_s * i, force_at(step_s * i));
  }
  return text;
}

TEST(Filter, TakesASineOf40HertzAwayAndLeavesOneOf2Hertz) {
  const auto made =
      evaluated(sample_record_by_time(0.002), rows_by_time(0.002, 30000, [](double t) {
                  return 100 + 20 * std::sin(2 * pi * 2 * t) + 50 * std::sin(2 * pi * 40 * t);
                }));
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_NEAR(made.run->pantographs.front().whole.std_n, 20 / std::numbers::sqrt2, 0.02);
}

TEST(Filter, InBlocksSaysTheSameAsOverTheWholeRun) {
  std::mt19937 chance(11);
  std::normal_distribution<double> noise(0, 40);
  std::vector<double> forces(20000);
  for (double& force : forces) {
    force = 100 + noise(chance);
  }
  MeasuredRecord record = sample_record_by_time(0.002);
  std::vector<double> streamed;
  ForceStream stream(record,
                     [&](const ForceSample& sample) { streamed.push_back(sample.force_n); });
  for (std::size_t i = 0; i < forces.size(); ++i) {
    const double time_s = 0.002 * static_cast<double>(i);
    stream.add(
        {.chainage_m = 40 * time_s, .time_s = time_s, .force_n = forces[i], .speed_kmh = 144});
  }
  stream.finish();
  const std::vector<double> whole = low_pass(forces, 0.002, contact_force_cutoff_hz);
  ASSERT_EQ(streamed.size(), whole.size());
  double greatest = 0;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    greatest = std::max(greatest, std::abs(streamed[i] - whole[i]));
  }
  EXPECT_LT(greatest, 1e-6);
}

TEST(Filter, OfRowsByDistanceTakesTheSpeedIntoAccount) {
  // A wave of 2 m at 40 m/s has 20 Hz, where the filter halves the power; at 10 m/s it has 5 Hz.
  MeasuredRecord record = sample_record();
  record.recorded_low_pass_hz.reset();
  record.sampled_every_m = 0.05;
  const auto wave = [](double at_m) { return 100 + 20 * std::sin(2 * pi * at_m / 2); };
  const auto std_at = [&](double speed_kmh) {
    const auto made = evaluated(record, sample_rows(40000, wave, speed_kmh, 0, 0.05));
    EXPECT_TRUE(made.run) << made.mistakes;
    return made.run ? made.run->pantographs.front().whole.std_n : 0;
  };
  EXPECT_NEAR(std_at(144), 10, 0.05);
  EXPECT_NEAR(std_at(36), 20 / std::numbers::sqrt2, 0.01);
}

TEST(Filter, LeavesForceAloneThatWasFilteredBeforeAndRowsTooFarApart) {
  const auto spikes = [](double at_m) { return std::fmod(at_m, 1) < 0.4 ? 120.0 : 80.0; };
  MeasuredRecord record = sample_record();
  const auto rows = sample_rows(400, spikes);
  EXPECT_NEAR(evaluated(record, rows).run->pantographs.front().whole.std_n, 20, 1e-9);
  record.recorded_low_pass_hz = 50;
  const auto coarse = evaluated(record, rows);
  EXPECT_NEAR(coarse.run->pantographs.front().whole.std_n, 20, 1e-9);
  EXPECT_EQ(coarse.run->pantographs.front().steps.too_coarse, 400);
}

TEST(Stretches, AreTensionLengthsAndTheirSpans) {
  MeasuredRecord record = sample_record();
  record.tension_lengths = {{"A", {0, 60, 120}}, {"B", {130, 180}}};
  // One level a span; 500 N between the lengths and behind them, where nothing counts it.
  const auto made = evaluated(record, sample_rows(500, [](double at_m) {
                                return at_m < 60    ? 100.0
                                       : at_m < 120 ? 120.0
                                       : at_m < 130 ? 500.0
                                       : at_m < 180 ? 90.0
                                                    : 500.0;
                              }));
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredPantograph& one = made.run->pantographs.front();
  ASSERT_EQ(one.stretches.size(), 2U);
  EXPECT_EQ(one.stretches[0].id, "A");
  EXPECT_DOUBLE_EQ(one.stretches[0].figures.mean_n, 110);
  EXPECT_NEAR(one.stretches[0].figures.std_n, 10, 1e-9);
  EXPECT_NEAR(one.stretches[0].covered(), 1, 1e-9);
  EXPECT_DOUBLE_EQ(one.stretches[1].figures.mean_n, 90);
  ASSERT_EQ(one.spans.size(), 3U);
  EXPECT_DOUBLE_EQ(one.spans[1].from_m, 60);
  EXPECT_DOUBLE_EQ(one.spans[1].figures.mean_n, 120);
  EXPECT_DOUBLE_EQ(one.spans[1].figures.std_n, 0);
  EXPECT_EQ(one.spans[2].tension_length, "B");
}

TEST(Stretches, AreKilometresWhereNoTensionLengthIsStated) {
  const auto made = evaluated(
      sample_record(), sample_rows(
                           5000, [](double at_m) { return at_m < 0 ? 80.0 : 100.0; }, 144, -700));
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredPantograph& one = made.run->pantographs.front();
  ASSERT_EQ(one.stretches.size(), 3U);
  EXPECT_EQ(one.stretches[0].id, "km -1");
  EXPECT_DOUBLE_EQ(one.stretches[0].figures.mean_n, 80);
  EXPECT_NEAR(one.stretches[0].covered(), 0.7, 1e-9);
  EXPECT_EQ(one.stretches[2].id, "km 1");
  EXPECT_TRUE(one.spans.empty());
}

TEST(Stretches, AreTheSameWhicheverWayTheTrainRan) {
  MeasuredRecord record = sample_record();
  record.tension_lengths = {{"A", {0, 60, 120}}};
  const auto made = evaluated(
      record, sample_rows(
                  300, [](double at_m) { return at_m < 60 ? 100.0 : 120.0; }, 144, 140, -0.5));
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_TRUE(made.run->falling);
  const MeasuredPantograph& one = made.run->pantographs.front();
  ASSERT_EQ(one.spans.size(), 2U);
  EXPECT_DOUBLE_EQ(one.spans[0].figures.mean_n, 100);
  EXPECT_DOUBLE_EQ(one.spans[1].figures.mean_n, 120);
}

TEST(Stretches, ThatAreComparedAreThoseOfTheDirectionOfTravel) {
  const ComparedStretches stretches{.rising = {20, 40}, .falling = {50, 60}};
  const auto force = [](double at_m) { return at_m; };
  const auto rising = evaluated(sample_record(), sample_rows(200, force), stretches);
  EXPECT_DOUBLE_EQ(rising.run->pantographs.front().compared.from_m, 20);
  EXPECT_DOUBLE_EQ(rising.run->pantographs.front().compared.to_m, 40);
  const auto falling =
      evaluated(sample_record(), sample_rows(200, force, 144, 100, -0.5), stretches);
  EXPECT_DOUBLE_EQ(falling.run->pantographs.front().compared.from_m, 50);
  EXPECT_DOUBLE_EQ(falling.run->pantographs.front().compared.to_m, 60);
}

TEST(ForceTrace, KeepsEveryPeakAndDipHoweverManyRowsThereAre) {
  ForceTrace trace;
  const int rows = 1'000'000;
  for (int i = 0; i < rows; ++i) {
    const double force = i == 123'456 ? 400 : i == 654'321 ? -20 : 100 + (i % 7);
    trace.add({.chainage_m = 0.01 * i, .force_n = force, .begins_piece = i == 0 || i == 500'000});
  }
  const auto pieces = trace.pieces();
  ASSERT_EQ(pieces.size(), 2U);
  std::size_t points = 0;
  double greatest = 0;
  double least = 1e9;
  double last_m = -1;
  for (const auto& piece : pieces) {
    points += piece.size();
    for (const ForceTrace::Point& point : piece) {
      EXPECT_GE(point.chainage_m, last_m);
      last_m = point.chainage_m;
      if (point.force_n > greatest) {
        greatest = point.force_n;
        EXPECT_TRUE(point.force_n < 400 || point.chainage_m == 0.01 * 123'456);
      }
      least = std::min(least, point.force_n);
    }
  }
  EXPECT_LE(points, 4 * ForceTrace::most_parts);
  EXPECT_EQ(greatest, 400);
  EXPECT_EQ(least, -20);
}

}  // namespace
}  // namespace panup
