#include "fitting/fit_rows.h"

#include <gtest/gtest.h>

#include <sstream>

#include "dynamics_sample_line.h"
#include "records_sample.h"

namespace panup {
namespace {

FitRun rows_of(double from_m, double step_m, int count) {
  MeasuredRecord record = sample_record();
  record.contact_line_at_m = 5000;
  ContactLine line = sample_line(20);
  const ComparedStretches stretches{{5200, 5800}, {5250, 5850}};
  const std::string text = sample_rows(
      count, [](double at_m) { return at_m / 100; }, 144, from_m, step_m);
  const auto made = evaluated(record, text, stretches);
  EXPECT_TRUE(made.run) << made.mistakes;
  std::istringstream stream(text);
  return fit_rows(stream, record, *made.run, line, stretches);
}

TEST(FitRows, LieWithinTheStretchByTheLinesOwnPlacesAndNoNearerThanTheFilterLets) {
  const FitRun run = rows_of(5000, 0.5, 2000);
  EXPECT_FALSE(run.falling);
  EXPECT_DOUBLE_EQ(run.speed_kmh, 144);
  const std::vector<FitRow>& rows = run.series.front().rows;
  EXPECT_DOUBLE_EQ(rows.front().at_m, 200);
  EXPECT_DOUBLE_EQ(rows.back().at_m, 800);
  // 40 m/s and 20 Hz: a metre.
  EXPECT_DOUBLE_EQ(rows[1].at_m - rows[0].at_m, 1);
  EXPECT_DOUBLE_EQ(rows[1].force_n, 52.01);
}

TEST(FitRows, OfATrainThatRanTheOtherWayCountFromTheOtherEnd) {
  const FitRun run = rows_of(6000, -0.5, 2000);
  EXPECT_TRUE(run.falling);
  const std::vector<FitRow>& rows = run.series.front().rows;
  EXPECT_DOUBLE_EQ(rows.front().at_m, 150) << "chainage 5850, 150 m before 6000";
  EXPECT_DOUBLE_EQ(rows.front().force_n, 58.5);
}

TEST(FitRows, OfEveryFifthPairOfSpansAreLeftOut) {
  const FitRun run = rows_of(5000, 0.5, 2000);
  for (const FitRow& row : run.series.front().rows) {
    const bool fifth = (static_cast<int>(row.at_m) / 100) % 5 == 4;
    EXPECT_EQ(row.left_out, fifth) << row.at_m;
  }
}

}  // namespace
}  // namespace panup
