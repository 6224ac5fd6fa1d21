#include <fmt/format.h>

#include <iterator>

#include "drawing/csv_table.h"
#include "figures/simulation.h"

namespace panup {

namespace {

CsvColumn of_trace(std::string name, std::string meaning, std::string unit) {
  return {std::move(name), CellKind::number, EmptyCell::never, std::move(meaning), std::move(unit)};
}

CsvTable trace_table() {
  return {.name = "trace",
          .title = "Contact force and heights of raised pantographs, computed",
          .columns = {{.name = "pantograph",
                       .kind = CellKind::whole,
                       .meaning = "Raised pantograph, from the front, from 1."},
                      of_trace("time_s", "Time since the start of the run.", "s"),
                      of_trace("at_m", "Chainage along the line.", "m"),
                      of_trace("contact_force_n", "Contact force, unfiltered.", "N"),
                      of_trace("filtered_force_n", "Contact force, filtered at 20 Hz.", "N"),
                      of_trace("head_height_m",
                               "Collector head above the contact wire's static height at supports.",
                               "m"),
                      of_trace("wire_height_m", "Contact wire at the pantograph, likewise.", "m")},
          .key = {"pantograph", "time_s"}};
}

}  // namespace

std::string trace_to_csv(const SimulationResult& result) {
  std::string out = csv_text(trace_table());
  int number = 0;
  for (const Trace::OfPantograph& one : result.trace->pantographs) {
    ++number;
    for (std::size_t row = 0; row < one.at_m.size(); ++row) {
      // The shortest that read back to the same.
      fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{},{}\n", number, one.time_s[row],
                     one.at_m[row], one.contact_force_n[row], one.filtered_force_n[row],
                     one.head_height_m[row], one.wire_height_m[row]);
    }
  }
  return out;
}

std::vector<RenderedFile> trace_files(const SimulationReport& report, const std::string& file) {
  return {{file, trace_to_csv(report.result)},
          {csv_metadata_name(file),
           csv_metadata(trace_table(), file, {.invented = invented(report), .thing = "result"})}};
}

}  // namespace panup
