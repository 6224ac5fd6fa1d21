#include "dynamics/frame_force.h"

#include <algorithm>

#include "dynamics/contact_shape.h"
#include "dynamics/pressed_line.h"

namespace panup {

namespace {

double spring_at_bottom(const RunningPantograph& one) {
  return one.model.masses.back().stiffness_n_per_m;
}

/// By which the lowest mass stands above the wire, as far as it is above the head with its springs
/// free, while the head presses with its static force: contact and inner springs give way.
double give_way(const RunningPantograph& one) {
  double sum = one.static_force_n / one.model.contact_stiffness_n_per_m;
  for (std::size_t i = 0; i + 1 < one.model.masses.size(); ++i) {
    const double stiffness = one.model.masses[i].stiffness_n_per_m;
    sum += stiffness > 0 ? one.static_force_n / stiffness : 0;
  }
  return sum;
}

}  // namespace

std::vector<FrameForce> frame_forces(const SimulationRequest& request, const StaticState& state,
                                     const RunCourse& course) {
  const bool springs = std::ranges::any_of(
      request.pantographs, [](const RunningPantograph& one) { return spring_at_bottom(one) > 0; });
  std::vector<double> heights(request.pantographs.size(), 0);
  if (springs) {
    std::vector<PressedHead> heads;
    for (const RunningPantograph& one : request.pantographs) {
      heads.push_back({one.static_force_n, one.behind_first_m});
    }
    heights = mean_heights_pressed(*request.line, state, heads, course.from_m, course.to_m);
  }
  std::vector<FrameForce> forces;
  for (std::size_t i = 0; i < heights.size(); ++i) {
    const RunningPantograph& one = request.pantographs[i];
    const double stiffness = spring_at_bottom(one);
    ShapeWalk shape(state.contact_shape);
    const double start_m = shape.height(course.start_m - one.behind_first_m);
    double above_stated_m = 0;
    if (one.model.static_force_at_height_m && request.line->contact_wire_height_m) {
      above_stated_m = *request.line->contact_wire_height_m - *one.model.static_force_at_height_m;
    }
    const double pressed_n =
        one.static_force_n + aerodynamic_force(one.model, one.knuckle, request.speed_kmh);
    const double spring_m = heights[i] + give_way(one) - above_stated_m - start_m;
    forces.push_back({stiffness * start_m, pressed_n + stiffness * spring_m});
  }
  return forces;
}

}  // namespace panup
