#include "render/simulation_trace.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace panup {

namespace {

/// How many steps after the first pantograph's first row another one's comes.
std::size_t steps_later(const SimulationRecord& record, std::size_t pantograph) {
  const Trace& trace = *record.result.trace;
  const double way_of_step = record.result.speed_kmh / 3.6 * trace.step_s;
  // Both places as they were at one time: each plus its distance behind the first.
  const double way = trace.pantographs[pantograph].at_m.front() +
                     record.pantographs[pantograph].behind_first_m -
                     trace.pantographs.front().at_m.front();
  return static_cast<std::size_t>(std::max(0L, std::lround(way / way_of_step)));
}

}  // namespace

std::string trace_csv(const SimulationRecord& record) {
  std::string out;
  if (!record.result.trace) {
    return out;
  }
  const Trace& trace = *record.result.trace;
  auto end = std::back_inserter(out);
  out += "time_s";
  std::vector<std::size_t> first;
  std::size_t rows = 0;
  for (std::size_t i = 0; i < trace.pantographs.size(); ++i) {
    fmt::format_to(end,
                   ",p{0}_at_m,p{0}_contact_force_n,p{0}_filtered_force_n,p{0}_head_height_mm,"
                   "p{0}_wire_height_mm",
                   i + 1);
    first.push_back(trace.pantographs[i].at_m.empty() ? 0 : steps_later(record, i));
    rows = std::max(rows, first[i] + trace.pantographs[i].at_m.size());
  }
  out += '\n';
  for (std::size_t row = 0; row < rows; ++row) {
    fmt::format_to(end, "{:.6f}", static_cast<double>(row) * trace.step_s);
    for (std::size_t i = 0; i < trace.pantographs.size(); ++i) {
      const Trace::OfPantograph& one = trace.pantographs[i];
      if (row < first[i] || row - first[i] >= one.at_m.size()) {
        out += ",,,,,";
        continue;
      }
      const std::size_t at = row - first[i];
      fmt::format_to(end, ",{:.4f},{:.3f},{:.3f},{:.4f},{:.4f}", one.at_m[at],
                     one.contact_force_n[at], one.filtered_force_n[at],
                     1000 * one.head_height_m[at], 1000 * one.wire_height_m[at]);
    }
    out += '\n';
  }
  return out;
}

}  // namespace panup
