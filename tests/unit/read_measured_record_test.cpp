#include "files/read_measured_record.h"

#include <gtest/gtest.h>

#include "bad_input_cases.h"

namespace panup {
namespace {

MeasuredRecord right_record() {
  Diagnostics diagnostics;
  const auto record = read_measured_record(
      {.file = "records/f.toml", .text = std::string(right_text(FileKind::measured_force))},
      diagnostics);
  EXPECT_TRUE(record);
  return record.value_or(MeasuredRecord{});
}

TEST(MeasuredRecordFile, IsReadWithItsUnitsAndFromItsOwnFolder) {
  const MeasuredRecord record = right_record();
  EXPECT_EQ(record.columns.chainage->heading, "km");
  EXPECT_EQ(record.columns.chainage->factor, 1000);
  EXPECT_EQ(record.columns.force.factor, 1);
  EXPECT_FALSE(record.columns.time);
  EXPECT_EQ(record.supply, EnergySupply::ac_15kv);
  EXPECT_EQ(record.recorded_low_pass_hz, 20);
  EXPECT_EQ(record.sampled_every_m, 0.5);
  EXPECT_EQ(record.loss_at_or_below_n, 2);
  EXPECT_EQ(record.layout.separator, ';');
  EXPECT_EQ(record.layout.decimal, ',');
  EXPECT_EQ(record.layout.heading_line, 2);
  EXPECT_EQ(record.layout.rows_from_line, 4);
  EXPECT_EQ(record.layout.missing.back(), "-9999");
  EXPECT_EQ(record.layout.missing.front(), "")
      << "an empty cell is a missing force whatever else is";
  EXPECT_EQ(record.runs[1].file, "records/r2.csv");
  EXPECT_EQ(record.contact_line, "lines/nv-140.toml");
  EXPECT_EQ(record.contact_line_at_m, 12000);
  EXPECT_EQ(record.pantographs[0].model, "pantographs/hr-1950.toml");
  EXPECT_EQ(record.pantographs[1].behind_first_m, 30);
  EXPECT_TRUE(record.pantographs[1].measured);
}

TEST(MeasuredRecordFile, LaysSpansOneAfterTheOther) {
  const MeasuredRecord record = right_record();
  ASSERT_EQ(record.tension_lengths.size(), 2U);
  EXPECT_EQ(record.tension_lengths[0].supports_m.size(), 17U);
  EXPECT_EQ(record.tension_lengths[0].to_m(), 13040);
  EXPECT_EQ(record.tension_lengths[1].supports_m,
            (std::vector<double>{13040, 13105, 13165, 13220}));
}

TEST(MeasuredRecordFile, OfOnePantographNeedsLittle) {
  Diagnostics diagnostics;
  const auto record = read_measured_record(
      {.file = "f.toml",
       .text =
           "kind = \"measured force\"\nid = \"x\"\nrecorded_unfiltered = true\n"
           "sampled_every_ms = 2\nspeed_kmh = 100\n[column]\ntime_ms = \"t\"\nforce_kn = \"F\"\n"
           "[[run]]\nid = \"1\"\nfile = \"a.csv\"\nbegins_at_m = 100\n[[pantograph]]\nid = "
           "\"1\"\n"},
      diagnostics);
  ASSERT_TRUE(record) << to_line(diagnostics.front());
  EXPECT_TRUE(needs_filter(*record));
  EXPECT_EQ(record->sampled_every_s, 0.002);
  EXPECT_EQ(record->columns.time->factor, 0.001);
  EXPECT_EQ(record->columns.force.factor, 1000);
  EXPECT_EQ(record->runs[0].begins_at_m, 100);
  EXPECT_EQ(record->layout.rows_from_line, 2);
}

TEST(MeasuredRecordFile, FilteredAbove20HertzIsFilteredOnceMore) {
  MeasuredRecord record = right_record();
  EXPECT_FALSE(needs_filter(record));
  record.recorded_low_pass_hz = 20.5;
  EXPECT_TRUE(needs_filter(record));
  EXPECT_EQ(evaluated_low_pass_hz(record), 20);
  record.recorded_low_pass_hz = 10;
  EXPECT_FALSE(needs_filter(record));
  EXPECT_EQ(evaluated_low_pass_hz(record), 10);
}

}  // namespace
}  // namespace panup
