#include <fmt/format.h>

#include "figures/simulation.h"

namespace panup {

std::string trace_to_csv(const SimulationResult& result) {
  std::string out =
      "pantograph,time_s,at_m,contact_force_n,filtered_force_n,head_height_m,wire_height_m\n";
  int number = 0;
  for (const Trace::OfPantograph& one : result.trace->pantographs) {
    ++number;
    for (std::size_t row = 0; row < one.at_m.size(); ++row) {
      out += fmt::format("{},{:.4f},{:.4f},{:.4f},{:.4f},{:.6f},{:.6f}\n", number, one.time_s[row],
                         one.at_m[row], one.contact_force_n[row], one.filtered_force_n[row],
                         one.head_height_m[row], one.wire_height_m[row]);
    }
  }
  return out;
}

}  // namespace panup
