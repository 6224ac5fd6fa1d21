#include <cmath>
#include <sstream>

#include "harness.h"
#include "records/evaluate_record.h"

namespace {

/// Rows as in the seeds; the first byte says how they are to be taken.
panup::MeasuredRecord record_of(std::uint8_t way) {
  panup::MeasuredRecord record;
  const bool by_time = (way & 1U) != 0;
  if ((way & 2U) == 0) {
    record.recorded_low_pass_hz = 20;
  }
  record.sampled_every_m = by_time ? 0 : 0.25;
  record.sampled_every_s = by_time ? 0.005 : 0;
  record.columns.time = panup::RecordColumn{"t", 1};
  if (!by_time) {
    record.columns.chainage = panup::RecordColumn{"m", 1};
  }
  record.columns.force = {"F", 1};
  record.columns.speed = panup::RecordColumn{"v", 1};
  record.columns.pantograph = panup::RecordColumn{"p", 1};
  record.layout.leave_out_bad_rows = true;
  record.layout.decimal = (way & 4U) != 0 ? ',' : '.';
  record.runs = {{.id = "1", .file = "fuzzed"}};
  record.pantographs = {{.id = "a", .model = {}}, {.id = "b", .model = {}, .behind_first_m = 20}};
  if ((way & 8U) != 0) {
    record.tension_lengths = {{"A", {0, 1, 2, 50}}};
  }
  return record;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::uint8_t way = size > 0 ? data[0] : 0;
  std::istringstream stream(size > 0 ? std::string(data + 1, data + size) : std::string());
  panup::Diagnostics mistakes;
  const auto run = panup::evaluate_run(stream, record_of(way), 0, std::nullopt, mistakes);
  panup::require_sound(run.has_value(), mistakes);
  if (!run) {
    return 0;
  }
  std::int64_t evaluated = 0;
  for (const panup::MeasuredPantograph& one : run->pantographs) {
    evaluated += one.whole.rows;
    const auto& figures = one.whole;
    if (!std::isfinite(figures.mean_n) || !(figures.std_n >= 0) ||
        !(figures.min_n <= figures.mean_n + 1e-6 && figures.mean_n <= figures.max_n + 1e-6)) {
      panup::fail("figures are numbers, and the mean lies between the extremes");
    }
  }
  const panup::RowCounts& counts = run->counts;
  if (evaluated + counts.missing + counts.bad + counts.slow + counts.others != counts.rows) {
    panup::fail("every row is evaluated or counted as left out");
  }
  return 0;
}
