/// Prints the contact force along the line of `fitted_line.h` as it is, by the implicit yardstick:
/// another scheme than that of `simulate`, another grid and another step. Kept as
/// `measured_by_yardstick.csv`, for it takes minutes.

#include <fmt/format.h>

#include <cmath>

#include "dynamics/evaluation.h"
#include "dynamics/prepared_line.h"
#include "dynamics/run_course.h"
#include "fitted_line.h"
#include "implicit_yardstick.h"

int main() {
  using namespace panup;
  constexpr double step_s = 0.0011;
  constexpr double grid_m = 0.16;
  ContactLine line = fitted_line();
  std::vector<RunningPantograph> pantographs{fitted_pantograph()};
  set_values(line, pantographs, true);
  SimulationRequest request;
  request.line = &line;
  request.pantographs = pantographs;
  request.speed_kmh = fitted_speed_kmh;
  const PreparedLine prepared = prepare_line(line, request.settings);
  const LineGrid grid = std::get<LineGrid>(make_grid(line, prepared.state, step_s, grid_m));
  const bench::Yardstick run = bench::run_yardstick(grid, prepared.state, request, step_s);
  const std::vector<double> filtered = low_pass(run.forces_n, step_s, contact_force_cutoff_hz);
  const RunCourse course = std::get<RunCourse>(plan_course(request));
  const double way = fitted_speed_kmh / 3.6 * step_s;
  fmt::print("at_m,force_n\n");
  for (double at_m = course.from_m; at_m < course.to_m; at_m += 0.25) {
    const double place = (at_m - course.start_m) / way;
    const auto row = static_cast<std::size_t>(place);
    const double share = place - std::floor(place);
    fmt::print("{:.2f},{:.3f}\n", at_m,
               filtered[row] + share * (filtered[row + 1] - filtered[row]));
  }
}
