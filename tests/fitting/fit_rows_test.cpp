#include "fitting/fit_rows.h"

#include <gtest/gtest.h>

#include <sstream>

#include "dynamics_sample_line.h"
#include "records_sample.h"

namespace panup {
namespace {

/// On a line that lies from chainage 5000 on.
MeasuredRecord laid_record() {
  MeasuredRecord record = sample_record();
  record.contact_line_at_m = 5000;
  return record;
}

/// 1000 m of rows, the force a hundredth of the chainage.
std::string rows_from(double from_m, double step_m) {
  return sample_rows(
      2000, [](double at_m) { return at_m / 100; }, 144, from_m, step_m);
}

FitRun rows_of(const MeasuredRecord& record, const ContactLine& line, const std::string& text) {
  const ComparedStretches stretches{{5200, 5800}, {5250, 5850}};
  const auto made = evaluated(record, text, stretches);
  EXPECT_TRUE(made.run) << made.mistakes;
  std::istringstream stream(text);
  return fit_rows(stream, record, *made.run, line, stretches);
}

TEST(FitRows, LieWithinTheStretchByTheLinesOwnPlacesAndNoNearerThanTheFilterLets) {
  const FitRun run = rows_of(laid_record(), sample_line(20), rows_from(5000, 0.5));
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
  const FitRun run = rows_of(laid_record(), sample_line(20), rows_from(6000, -0.5));
  EXPECT_TRUE(run.falling);
  const std::vector<FitRow>& rows = run.series.front().rows;
  EXPECT_DOUBLE_EQ(rows.front().at_m, 150) << "chainage 5850, 150 m before 6000";
  EXPECT_DOUBLE_EQ(rows.front().force_n, 58.5);
}

TEST(FitRows, OfEveryFifthPairOfSpansAreLeftOut) {
  const FitRun run = rows_of(laid_record(), sample_line(20), rows_from(5000, 0.5));
  for (const FitRow& row : run.series.front().rows) {
    const bool fifth = (static_cast<int>(row.at_m) / 100) % 5 == 4;
    EXPECT_EQ(row.left_out, fifth) << row.at_m;
  }
}

TEST(FitRows, OfASlowerFilterLieFartherApart) {
  MeasuredRecord record = laid_record();
  record.recorded_low_pass_hz = 10;
  const FitRun run = rows_of(record, sample_line(20), rows_from(5000, 0.5));
  const std::vector<FitRow>& rows = run.series.front().rows;
  // 40 m/s and 10 Hz: two metres.
  EXPECT_DOUBLE_EQ(rows[1].at_m - rows[0].at_m, 2);
}

TEST(FitRows, OfATrainThatRanTheOtherWayAreLeftOutByTheSpansAsItMetThem) {
  ContactLine line = sample_line(20);
  line.spans.back().length_m = 40;
  line.spans.back().droppers.pop_back();
  const FitRun run = rows_of(laid_record(), line, rows_from(6000, -0.5));
  ASSERT_FALSE(run.series.front().rows.empty());
  for (const FitRow& row : run.series.front().rows) {
    // It met the span of 40 m first: the ninth and tenth are from 390 to 490 m.
    EXPECT_EQ(row.left_out, row.at_m >= 390 && row.at_m < 490) << row.at_m;
  }
}

TEST(FitRows, BelongToThePantographThatMetThemAtItsSpeedThere) {
  MeasuredRecord record = laid_record();
  record.columns.pantograph = RecordColumn{"p", 1};
  record.pantographs = {{.id = "front", .measured = false, .model = {}},
                        {.id = "mid", .model = {}, .behind_first_m = 20},
                        {.id = "rear", .model = {}, .behind_first_m = 60}};
  std::string text = "m;N;km/h;p\n";
  for (int i = 0; i < 2000; ++i) {
    const double at_m = 5000 + 0.5 * i;
    const int speed_kmh = at_m < 5100 ? 100 : 144;  // where nothing is compared it was slower
    text += fmt::format("{};70;{};mid\n{};90;{};rear\n", at_m, speed_kmh, at_m, speed_kmh);
  }
  const FitRun run = rows_of(record, sample_line(20), text);
  EXPECT_DOUBLE_EQ(run.speed_kmh, 144);
  ASSERT_EQ(run.series.size(), 2U);
  EXPECT_EQ(run.series[0].pantograph, 1U);
  EXPECT_EQ(run.series[1].pantograph, 2U);
  for (const FitRow& row : run.series[0].rows) {
    EXPECT_EQ(row.force_n, 70);
  }
  for (const FitRow& row : run.series[1].rows) {
    EXPECT_EQ(row.force_n, 90);
  }
}

}  // namespace
}  // namespace panup
