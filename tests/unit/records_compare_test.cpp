#include <gtest/gtest.h>

#include "dynamics/run_course.h"
#include "dynamics_sample_line.h"
#include "records/compare_record.h"
#include "records_sample.h"

namespace panup {
namespace {

/// A line whose ends differ, so that a mirrored one can be told from it.
ContactLine uneven_line() {
  ContactLine line = sample_line(14);
  line.spans.back().length_m -= 10;
  line.spans.back().droppers.pop_back();
  line.supports.back().encumbrance_m += 0.1;
  return line;
}

TEST(MirroredLine, BeginsWhereTheOtherEnds) {
  const ContactLine line = uneven_line();
  const ContactLine other = mirrored(line);
  EXPECT_EQ(length_of(other), length_of(line));
  EXPECT_EQ(other.supports.front(), line.supports.back());
  EXPECT_EQ(other.spans.front().length_m, line.spans.back().length_m);
  const Dropper& last = line.spans.back().droppers.back();
  EXPECT_DOUBLE_EQ(other.spans.front().droppers.front().at_m,
                   line.spans.back().length_m - last.at_m);
  const ContactLine again = mirrored(other);
  EXPECT_EQ(again.supports, line.supports);
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    ASSERT_EQ(again.spans[i].droppers.size(), line.spans[i].droppers.size());
    EXPECT_NEAR(again.spans[i].droppers.front().at_m, line.spans[i].droppers.front().at_m, 1e-12);
  }
}

std::vector<RunningPantograph> one_pantograph() {
  RunningPantograph one;
  one.model = sample_pantograph();
  one.static_force_n = 70;
  return {one};
}

MeasuredRecord record_on_line(bool laid) {
  MeasuredRecord record = sample_record();
  record.sampled_every_m = 0.25;
  record.pantographs.front().model = "model.toml";
  if (laid) {
    record.contact_line_at_m = 5000;
  }
  return record;
}

/// A second one behind it.
std::vector<RunningPantograph> two_pantographs() {
  std::vector<RunningPantograph> two = one_pantograph();
  two.push_back(two.front());
  two.back().static_force_n = 60;
  two.back().behind_first_m = 30;
  return two;
}

/// What a run along the line would have measured of its last pantograph, the force made `factor`
/// times as uneven.
std::string measured_on(const ContactLine& met, double begins_m, bool falling, double factor,
                        const std::vector<RunningPantograph>& pantographs = one_pantograph()) {
  SimulationRequest request;
  request.line = &met;
  request.pantographs = pantographs;
  request.speed_kmh = 120;
  request.settings.keep_trace = true;
  const SimulationResult result = simulate(request).result.value();
  const Trace::OfPantograph& trace = result.trace->pantographs.back();
  const double mean_n = result.pantographs.back().mean_n;
  std::string text = "m;N;km/h\n";
  std::size_t row = 0;
  for (double at_m = std::ceil(trace.at_m.front()); at_m < trace.at_m.back(); at_m += 0.25) {
    while (trace.at_m[row + 1] < at_m) {
      ++row;
    }
    const double chainage = falling ? begins_m + length_of(met) - at_m : begins_m + at_m;
    text += fmt::format("{:.3f};{:.4f};120\n", chainage,
                        mean_n + factor * (trace.filtered_force_n[row] - mean_n));
  }
  return text;
}

ComparedRun compared(const MeasuredRecord& record, const ContactLine& line, const std::string& rows,
                     const std::vector<RunningPantograph>& pantographs = one_pantograph()) {
  const auto stretches = compared_stretches(record, line, pantographs);
  const auto made = evaluated(record, rows, stretches);
  EXPECT_TRUE(made.run) << made.mistakes;
  return compare_run(record, line, pantographs, {*made.run}, 0);
}

TEST(ComparedRecord, OfTheSameRunDiffersByNothing) {
  const ContactLine line = uneven_line();
  for (const bool falling : {false, true}) {
    const ContactLine met = falling ? mirrored(line) : line;
    const MeasuredRecord record = record_on_line(true);
    const ComparedRun run = compared(record, line, measured_on(met, 5000, falling, 1));
    ASSERT_TRUE(run.result) << run.nothing;
    EXPECT_EQ(run.result->speed_kmh, 120);
    ASSERT_EQ(run.compared.size(), 1U);
    EXPECT_NEAR(run.compared.front().std_difference, 0, 0.01) << "falling " << falling;
    EXPECT_TRUE(run.compared.front().valid);
    EXPECT_NEAR(chainage_on(record, run.line, falling, run.result->from_m),
                falling ? 5000 + length_of(line) - run.result->from_m : 5000 + run.result->from_m,
                1e-9);
  }
}

TEST(ComparedRecord, IsValidWithinAFifthOfTheMeasuredDeviationAndNoFurther) {
  const ContactLine line = sample_line(14);
  // Simulated over measured is 1 / factor.
  for (const auto& [factor, valid] :
       {std::pair{0.85, true}, {0.82, false}, {1.2, true}, {1.3, false}}) {
    const ComparedRun run =
        compared(record_on_line(true), line, measured_on(line, 5000, false, factor));
    ASSERT_TRUE(run.result) << run.nothing;
    EXPECT_EQ(run.compared.front().valid, valid) << factor;
    EXPECT_NEAR(run.compared.front().std_difference, 1 / factor - 1, 0.01);
  }
}

TEST(ComparedRecord, OnALineThatLiesNowhereIsComparedAsAWhole) {
  const ContactLine line = sample_line(14);
  const ComparedRun run = compared(record_on_line(false), line, measured_on(line, 0, false, 1));
  ASSERT_TRUE(run.result) << run.nothing;
  EXPECT_TRUE(run.compared.front().valid);
}

TEST(ComparedRecord, SaysWhyThereIsNothingToCompare) {
  const ContactLine line = sample_line(14);
  const auto elsewhere = compared(record_on_line(true), line,
                                  sample_rows(
                                      1000, [](double) { return 80.0; }, 120, 0, 0.25));
  EXPECT_EQ(elsewhere.nothing, "no row lies where a simulation of the contact line says something");
  std::string rows = "m;N;km/h\n";
  for (int i = 0; i < 4000; ++i) {
    rows += fmt::format("{};80;{}\n", 5000 + 0.25 * i, 100 + 0.01 * i);
  }
  const auto unsteady = compared(record_on_line(true), line, rows);
  EXPECT_NE(unsteady.nothing.find("a simulation has one speed"), std::string::npos)
      << unsteady.nothing;
  const auto too_fast = compared(record_on_line(true), line,
                                 sample_rows(
                                     4000, [](double) { return 80.0; }, 550, 5000, 0.25));
  EXPECT_NE(too_fast.nothing.find("wave speed"), std::string::npos) << too_fast.nothing;
}

TEST(ComparedRecord, FilteredBelow20HertzHasTheSimulationFilteredLikewise) {
  const ContactLine line = sample_line(14);
  MeasuredRecord record = record_on_line(true);
  const auto rows = measured_on(line, 5000, false, 1);
  const ComparedRun at_20 = compared(record, line, rows);
  record.recorded_low_pass_hz = 2;
  const ComparedRun at_2 = compared(record, line, rows);
  EXPECT_LT(at_2.result->pantographs.front().std_n, 0.95 * at_20.result->pantographs.front().std_n);
  EXPECT_LT(at_2.compared.front().std_difference, at_20.compared.front().std_difference);
}

TEST(ComparedRecord, LooksAtTheStretchAloneThatASimulationSaysSomethingOf) {
  const ContactLine line = sample_line(14);
  std::string rows = measured_on(line, 5000, false, 1);
  const std::size_t first_row = rows.find('\n') + 1;
  const double first_m = std::stod(rows.substr(first_row));
  std::string before;
  for (int i = 200; i > 0; --i) {
    before += fmt::format("{};{};120\n", first_m - 0.25 * i, i % 2 == 0 ? 10 : 200);
  }
  const ComparedRun run = compared(record_on_line(true), line, rows.insert(first_row, before));
  ASSERT_TRUE(run.result) << run.nothing;
  EXPECT_NEAR(run.compared.front().std_difference, 0, 0.01);
}

TEST(ComparedRecord, OfTheRearPantographAloneIsSetBesideTheRearOne) {
  const ContactLine line = sample_line(14);
  MeasuredRecord record = record_on_line(true);
  record.pantographs = {{.id = "front", .measured = false, .model = "model.toml"},
                        {.id = "rear", .model = "model.toml", .behind_first_m = 30}};
  const std::string rows = measured_on(line, 5000, false, 1, two_pantographs());
  const ComparedRun at_20 = compared(record, line, rows, two_pantographs());
  ASSERT_TRUE(at_20.result) << at_20.nothing;
  ASSERT_EQ(at_20.compared.size(), 1U);
  EXPECT_EQ(at_20.compared.front().measured, 0U);
  EXPECT_EQ(at_20.compared.front().simulated, 1U);
  EXPECT_NEAR(at_20.compared.front().std_difference, 0, 0.01);
  // Whatever the filter, it stands where it stood and its head went as high.
  record.recorded_low_pass_hz = 2;
  const ComparedRun at_2 = compared(record, line, rows, two_pantographs());
  const PantographRun& rear = at_2.result->pantographs[1];
  EXPECT_EQ(rear.position_m, 30);
  EXPECT_EQ(rear.highest_head_m, at_20.result->pantographs[1].highest_head_m);
  EXPECT_EQ(rear.lowest_head_m, at_20.result->pantographs[1].lowest_head_m);
  EXPECT_GT(rear.highest_head_m, rear.lowest_head_m);
}

TEST(ComparedRecord, IsNoneWhereAnyPantographRanAtManySpeeds) {
  const ContactLine line = sample_line(14);
  MeasuredRecord record = record_on_line(true);
  record.columns.pantograph = RecordColumn{"p", 1};
  record.pantographs = {{.id = "front", .model = "model.toml"},
                        {.id = "rear", .model = "model.toml", .behind_first_m = 30}};
  for (const double way : {1.0, -1.0}) {
    std::string rows = "m;N;km/h;p\n";
    for (int i = 0; i < 2800; ++i) {
      rows +=
          fmt::format("{0};80;120;front\n{0};80;{1};rear\n", 5000 + 0.25 * i, 120 + way * 0.01 * i);
    }
    const ComparedRun run = compared(record, line, rows, two_pantographs());
    EXPECT_NE(run.nothing.find("a simulation has one speed"), std::string::npos) << run.nothing;
  }
}

}  // namespace
}  // namespace panup
