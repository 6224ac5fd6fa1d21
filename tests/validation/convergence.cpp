/// Convergence of the standard deviation in step and grid, on the reference model.
/// Source: the finest of our own runs.

#include <fmt/format.h>

#include <cmath>

#include "agreement.h"
#include "reference.h"

namespace panup::validation {
namespace {

double sigma(const ContactLine& line, double speed_kmh, double step_s, double grid_m) {
  SimulationRequest request = reference_request(line, speed_kmh, 120, {});
  request.settings.step_s = step_s;
  if (grid_m > 0) {
    request.settings.grid_m = grid_m;
  }
  return result_of(request).pantographs[0].std_n;
}

}  // namespace

Agreement convergence() {
  Agreement agreement;
  agreement.title = "Convergence in step and grid";
  agreement.statement =
      "Standard deviation of contact force on the reference model. The default step of 1.5 ms is "
      "within 1 % "
      "of the finest at both speeds.";
  agreement.source = "our own finest runs";
  const ContactLine line = reference_line(10);
  Table both{
      "Standard deviation over the step; the grid follows the step",
      {"step, ms", "grid, m", "250 km/h, N", "of the finest, %", "300 km/h, N", "of the finest, %"},
      {}};
  const double finest_250 = sigma(line, 250, 0.00025, 0);
  const double finest_300 = sigma(line, 300, 0.00025, 0);
  for (const double step_s : {0.004, 0.003, 0.0025, 0.002, 0.0015, 0.001, 0.0005, 0.00025}) {
    const double slow = sigma(line, 250, step_s, 0);
    const double fast = sigma(line, 300, step_s, 0);
    both.rows.push_back(
        {fmt::format("{:g}", 1000 * step_s),
         fmt::format("{:.3f}", std::sqrt(20000 / 1.35) * step_s * 1.01),
         fmt::format("{:.3f}", slow), fmt::format("{:+.2f}", 100 * (slow / finest_250 - 1)),
         fmt::format("{:.3f}", fast), fmt::format("{:+.2f}", 100 * (fast / finest_300 - 1))});
    if (step_s == default_step_s) {
      agreement.rows.push_back(figure("standard deviation at 250 km/h, 1.5 ms beside 0.25 ms", "N",
                                      slow, finest_250, 0.01 * finest_250));
      agreement.rows.push_back(figure("standard deviation at 300 km/h, 1.5 ms beside 0.25 ms", "N",
                                      fast, finest_300, 0.01 * finest_300));
    }
  }
  agreement.tables.push_back(std::move(both));
  Table grid{"Standard deviation over the grid alone, at a step of 0.5 ms",
             {"grid, m", "250 km/h, N", "300 km/h, N"},
             {}};
  for (const double grid_m : {1.0, 0.5, 0.25, 0.125}) {
    grid.rows.push_back({fmt::format("{:g}", grid_m),
                         fmt::format("{:.3f}", sigma(line, 250, 0.0005, grid_m)),
                         fmt::format("{:.3f}", sigma(line, 300, 0.0005, grid_m))});
  }
  agreement.tables.push_back(std::move(grid));
  return agreement;
}

}  // namespace panup::validation
