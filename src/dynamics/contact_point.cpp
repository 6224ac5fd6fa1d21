#include "dynamics/contact_point.h"

#include <algorithm>

namespace panup {

ContactPoint::ContactPoint(const LineGrid& grid, const std::vector<ShapeNode>& shape,
                           const PantographModel& model, double at_m, double speed_ms,
                           double step_s)
    : grid_(&grid),
      shape_(shape),
      start_m_(at_m),
      speed_ms_(speed_ms),
      step_s_(step_s),
      at_m_(at_m) {
  GridWire wire = grid.wires[0];
  wire.tension_n -= wire.node_mass_kg / wire.spacing_m * speed_ms * speed_ms;
  missing_ = missing_lifts(wire);
  contact_compliance_ = 1 / model.contact_stiffness_n_per_m;
  now_ = grid_point(grid, 0, at_m);
  stored_compliance_ = compliance();
  height_now_ = whole_before_ = whole_now_ = shape_.height(at_m);
}

double ContactPoint::meet(LineMotion& line, PantographMotion& pantograph) {
  ++step_;
  const double next_m = start_m_ + speed_ms_ * (static_cast<double>(step_) * step_s_);
  const GridPoint next = grid_point(*grid_, 0, next_m);
  const double height_next = shape_.height(next_m);
  const double response = pantograph.head_response() + line.response(now_, next);
  double free_gap = 0;
  force_n_ = 0;
  // Alone, the force follows at once. A dropper whose nodes it shares answers it, and the two are
  // settled in turn: each round leaves about a tenth of what was amiss.
  constexpr int most_rounds = 6;
  for (int round = 0; round < most_rounds; ++round) {
    free_gap = pantograph.next_head() - height_next - line.next_lift(next) + response * force_n_;
    const double mean_gap = (free_gap + 2 * gap_now_ + gap_before_) / 4;
    const double force = std::max(0.0, mean_gap / (compliance() + response / 4));
    line.press({now_, force - force_n_});
    pantograph.press(force - force_n_);
    force_n_ = force;
    if (!line.settle_beside(now_)) {
      break;
    }
  }

  // The wire's way under the head, less what its own motion is of it: what is left is the slope
  // that the head has run along. Split so by the product rule, nothing is lost to the step.
  const double whole_next = height_next + line.next_lift(next);
  const double way = (whole_next - whole_before_) / 2;
  const double own_way = (line.next_lift(now_) - lift_here_before_) / 2;
  // At half steps the contact holds a gap's energy at the compliance there; that this changes along
  // the grid is the motion's doing too.
  const double gap_next = free_gap - response * force_n_;
  const double here = compliance();
  const double stored_next = std::max(0.0, (gap_next + gap_now_) / 2);
  const double half_way = (here + compliance_at(next)) / 2;
  const double hardened = stored_next * stored_next * (1 / half_way - 1 / here) / 2 +
                          stored_ * stored_ * (1 / here - 1 / stored_compliance_) / 2;
  traction_work_ = hardened - force_n_ * (way - own_way);
  stored_ = stored_next;
  stored_compliance_ = half_way;

  gap_before_ = gap_now_;
  gap_now_ = gap_next;
  now_ = next;
  whole_before_ = whole_now_;
  whole_now_ = whole_next;
  lift_here_before_ = line.lift(next);
  height_now_ = height_next;
  at_m_ = next_m;
  return force_n_;
}

}  // namespace panup
