#pragma once

#include <fmt/format.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "records/evaluate_record.h"

namespace panup {

/// A record of one pantograph, sampled every half metre and filtered at 20 Hz, by `km;N;km/h`.
inline MeasuredRecord sample_record() {
  MeasuredRecord record;
  record.id = "sample";
  record.name = "Sample";
  record.recorded_low_pass_hz = 20;
  record.sampled_every_m = 0.5;
  record.columns.chainage = RecordColumn{"m", 1};
  record.columns.force = {"N", 1};
  record.columns.speed = RecordColumn{"km/h", 1};
  record.runs = {{.id = "1", .file = "rows.csv"}};
  record.pantographs = {{.id = "front", .model = {}}};
  return record;
}

/// The same sampled by time, unfiltered.
inline MeasuredRecord sample_record_by_time(double step_s) {
  MeasuredRecord record = sample_record();
  record.recorded_low_pass_hz.reset();
  record.sampled_every_m = 0;
  record.sampled_every_s = step_s;
  record.columns.chainage.reset();
  record.columns.time = RecordColumn{"s", 1};
  return record;
}

/// Rows every half metre from 0 m, at one speed.
inline std::string sample_rows(int count, const std::function<double(double)>& force_at,
                               double speed_kmh = 144, double from_m = 0, double step_m = 0.5) {
  std::string text = "m;N;km/h\n";
  for (int i = 0; i < count; ++i) {
    const double at_m = from_m + step_m * i;
    text += fmt::format("{:.4f};{:.6f};{}\n", at_m, force_at(at_m), speed_kmh);
  }
  return text;
}

struct Evaluated {
  std::optional<MeasuredRun> run;
  std::string mistakes;  ///< a line each
};

inline Evaluated evaluated(const MeasuredRecord& record, const std::string& rows,
                           const std::optional<ComparedStretches>& compared = std::nullopt) {
  std::istringstream stream(rows);
  Diagnostics mistakes;
  Evaluated out;
  out.run = evaluate_run(stream, record, 0, compared, mistakes);
  for (const Diagnostic& mistake : mistakes) {
    out.mistakes += to_line(mistake) + "\n";
  }
  return out;
}

}  // namespace panup
