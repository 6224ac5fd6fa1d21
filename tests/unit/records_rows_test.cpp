#include <gtest/gtest.h>

#include "records_sample.h"

namespace panup {
namespace {

MeasuredRecord lenient(MeasuredRecord record) {
  record.layout.leave_out_bad_rows = true;
  return record;
}

TEST(Rows, OfARecordAreReadByTheirHeadings) {
  MeasuredRecord record = sample_record();
  record.columns.chainage = RecordColumn{"km", 1000};
  record.columns.force = {"F, kN", 1000};
  record.columns.speed = RecordColumn{"m/s", 3.6};
  const auto made =
      evaluated(record, "km,other,\"F, kN\",m/s\n1.0000,x,0.1,40\n1.0005,x,0.12,40\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredFigures& whole = made.run->pantographs.front().whole;
  EXPECT_EQ(whole.rows, 2);
  EXPECT_DOUBLE_EQ(whole.mean_n, 110);
  EXPECT_DOUBLE_EQ(whole.mean_kmh, 144);
  EXPECT_DOUBLE_EQ(whole.from_m, 1000);
  EXPECT_DOUBLE_EQ(whole.to_m, 1000.5);
}

TEST(Rows, WithADecimalCommaAreNumbersToo) {
  MeasuredRecord record = sample_record();
  record.layout.separator = ';';
  record.layout.decimal = ',';
  const auto made = evaluated(record, "m;N;km/h\n0;100,5;144\n0,5;+99,5;144,0\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_DOUBLE_EQ(made.run->pantographs.front().whole.mean_n, 100);
}

TEST(Rows, WithADecimalCommaHaveNoPointsWhichMaySetThousandsApart) {
  MeasuredRecord record = sample_record();
  record.layout.separator = ';';
  record.layout.decimal = ',';
  const auto made = evaluated(record, "m;N;km/h\n0;100;144\n1.234;100;144\n");
  EXPECT_FALSE(made.run);
  EXPECT_TRUE(made.mistakes.starts_with(
      "rows.csv:3:1: the chainage in m '1.234' is no number; expected one as in 12,5\n"))
      << made.mistakes;
}

TEST(Rows, MayStandBelowAHeadOfSeveralLines) {
  MeasuredRecord record = sample_record();
  record.layout.heading_line = 2;
  record.layout.rows_from_line = 4;
  const auto made =
      evaluated(record, "Run of May\nm;N;km/h\n[m];[N];[km/h]\n0;100;144\n0.5;102;144\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_EQ(made.run->counts.rows, 2);
  EXPECT_DOUBLE_EQ(made.run->pantographs.front().whole.mean_n, 101);
}

TEST(Rows, ThatAreBadAreMistakesWithTheirPlace) {
  const auto made = evaluated(sample_record(),
                              "m;N;km/h\n"
                              "0;100;144\n"
                              "0.5;1o0;144\n"
                              "1;100\n"
                              "1.5;100;-3\n"
                              "2;9999;144\n"
                              "x;100;144\n"
                              "1e999;100;144\n"
                              "2.5;100;144\n"
                              "2.0;100;144\n"
                              "\"2.5;100;144\n"
                              "3;inf;144\n");
  EXPECT_FALSE(made.run);
  EXPECT_EQ(made.mistakes,
            "rows.csv:3:5: the force in N '1o0' is no number; expected one as in 12.5\n"
            "rows.csv:4:1: this row has 2 cells, the heading has 3\n"
            "rows.csv:5:9: the speed in km/h is -3; expected 0 to 600\n"
            "rows.csv:6:3: the force in N is 9999; expected -5000 to 5000\n"
            "rows.csv:7:1: the chainage in m 'x' is no number; expected one as in 12.5\n"
            "rows.csv:8:1: the chainage in m '1e999' is no number; expected one as in 12.5\n"
            "rows.csv:10:1: the chainage goes from 2.5 m back to 2 m; rows come in the order in "
            "which the pantograph passed\n"
            "rows.csv:11:1: quotes in this row do not close, or something stands behind them\n"
            "rows.csv:12:3: the force in N 'inf' is no number; expected one as in 12.5\n"
            "rows.csv: 9 of 11 rows cannot be read; mend them, or say 'leave_out_bad_rows = "
            "true', and the result names them as gaps\n");
}

TEST(Rows, ThatAreBadAreLeftOutWhereTheRecordSaysSoAndStayCounted) {
  std::string rows = "m;N;km/h\n";
  for (int i = 0; i < 100; ++i) {
    rows += fmt::format("{};{};144\n", 0.5 * i, i >= 40 && i < 70 ? "?" : "100");
  }
  const auto made = evaluated(lenient(sample_record()), rows);
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_EQ(made.run->counts.rows, 100);
  EXPECT_EQ(made.run->counts.bad, 30);
  EXPECT_EQ(made.run->bad_rows.size(), most_bad_rows_named);
  const MeasuredPantograph& one = made.run->pantographs.front();
  EXPECT_EQ(one.whole.rows, 70);
  EXPECT_EQ(one.steps.gaps, 1);
  EXPECT_DOUBLE_EQ(one.steps.gap_length_m, 15.5);
}

TEST(Rows, WithoutAForceAreGapsAndEachIsCounted) {
  MeasuredRecord record = sample_record();
  record.layout.missing.emplace_back("-9999");
  const auto made = evaluated(
      record, "m;N;km/h\n0;100;144\n0.5;;144\n1;nan;144\n1.5;-9999;144\n2;100;144\n2.5;100;144\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_EQ(made.run->counts.missing, 3);
  const MeasuredPantograph& one = made.run->pantographs.front();
  EXPECT_EQ(one.whole.rows, 3);
  EXPECT_EQ(one.steps.gaps, 1);
  ASSERT_EQ(one.steps.places.size(), 1U);
  EXPECT_DOUBLE_EQ(one.steps.places[0].from_m, 0);
  EXPECT_DOUBLE_EQ(one.steps.places[0].to_m, 2);
}

TEST(Rows, OfATrainThatHardlyMovesAreLeftOutAndCounted) {
  const auto made = evaluated(sample_record(), "m;N;km/h\n0;100;4.9\n0.5;100;5\n1;100;6\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_EQ(made.run->counts.slow, 1);
  EXPECT_EQ(made.run->pantographs.front().whole.rows, 2);
}

TEST(Rows, BelongToThePantographThatTheyName) {
  MeasuredRecord record = sample_record();
  record.columns.pantograph = RecordColumn{"p", 1};
  record.pantographs = {{.id = "front", .model = {}},
                        {.id = "mid", .measured = false, .model = {}, .behind_first_m = 20},
                        {.id = "rear", .model = {}, .behind_first_m = 60}};
  const auto made = evaluated(record,
                              "m;N;km/h;p\n100;90;144;front\n40;70;144;rear\n100.5;92;144;front\n"
                              "80.5;1;144;mid\n40.5;72;144;rear\n");
  ASSERT_TRUE(made.run) << made.mistakes;
  ASSERT_EQ(made.run->pantographs.size(), 2U);
  EXPECT_DOUBLE_EQ(made.run->pantographs[0].whole.mean_n, 91);
  EXPECT_EQ(made.run->pantographs[1].pantograph, 2U);
  EXPECT_DOUBLE_EQ(made.run->pantographs[1].whole.mean_n, 71);
  EXPECT_EQ(made.run->counts.others, 1);
  const auto wrong = evaluated(record, "m;N;km/h;p\n100;90;144;Front\n");
  EXPECT_NE(wrong.mistakes.find("rows.csv:2:12: there is no pantograph 'Front'; the record has "
                                "'front', 'mid' and 'rear'"),
            std::string::npos)
      << wrong.mistakes;
}

TEST(Rows, ByTimeAreLaidAlongTheLineByTheSpeed) {
  MeasuredRecord record = sample_record_by_time(0.01);
  record.recorded_low_pass_hz = 20;
  record.runs.front().begins_at_m = 500;
  std::string rows = "s;N;km/h\n";
  for (int i = 0; i < 101; ++i) {
    rows += fmt::format("{:.2f};100;{}\n", 7 + 0.01 * i, 180);
  }
  const auto made = evaluated(record, rows);
  ASSERT_TRUE(made.run) << made.mistakes;
  EXPECT_NEAR(made.run->pantographs.front().whole.from_m, 500, 1e-9);
  EXPECT_NEAR(made.run->pantographs.front().whole.to_m, 550, 1e-9);
  const auto back = evaluated(record, "s;N;km/h\n1;100;180\n1;100;180\n");
  EXPECT_NE(back.mistakes.find("rows.csv:3:1: the time goes from 1 s back to 1 s, or stands"),
            std::string::npos)
      << back.mistakes;
}

TEST(Rows, OfTheOneThatWasMeasuredBeginWhereItStood) {
  MeasuredRecord record = sample_record_by_time(0.01);
  record.recorded_low_pass_hz = 20;
  record.columns.time = RecordColumn{"ms", 0.001};
  record.runs.front().begins_at_m = 500;
  record.pantographs = {{.id = "front", .measured = false, .model = {}},
                        {.id = "rear", .model = {}, .behind_first_m = 60}};
  std::string rows = "ms;N;km/h\n";
  for (int i = 0; i < 101; ++i) {
    rows += fmt::format("{};100;180\n", 7000 + 10 * i);
  }
  const auto made = evaluated(record, rows);
  ASSERT_TRUE(made.run) << made.mistakes;
  const MeasuredPantograph& rear = made.run->pantographs.front();
  EXPECT_EQ(rear.pantograph, 1U);
  EXPECT_NEAR(rear.whole.from_m, 440, 1e-9);
  EXPECT_NEAR(rear.whole.to_m, 490, 1e-9);
  EXPECT_EQ(rear.steps.gaps, 0);
}

TEST(Headings, ThatLackAColumnAreSaidWithThoseThatAreThere) {
  EXPECT_EQ(evaluated(sample_record(), "m;force;km/h\n0;100;144\n").mistakes,
            "rows.csv:1:1: there is no column 'N' in the heading; it has 'm', 'force' and "
            "'km/h'\n");
  EXPECT_EQ(evaluated(sample_record(), "m;N;N;km/h\n0;100;1;144\n").mistakes,
            "rows.csv:1:1: there are several columns 'N' in the heading; the one that is meant "
            "must have a name of its own\n");
  EXPECT_EQ(evaluated(sample_record(), "").mistakes,
            "rows.csv: it has no line 1, where its heading is said to be\n");
  EXPECT_EQ(evaluated(sample_record(), "m;N;km/h\n").mistakes,
            "rows.csv: there are no rows in it below the heading\n");
  EXPECT_EQ(evaluated(sample_record(), "m;N;km/h\n0;;144\n").mistakes,
            "rows.csv: none of its 1 rows has a force at 5 km/h or more\n");
}

}  // namespace
}  // namespace panup
