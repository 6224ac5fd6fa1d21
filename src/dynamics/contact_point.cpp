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
  const GridWire& wire = grid.wires[0];
  const double c2 = wire.tension_n * wire.spacing_m / wire.node_mass_kg;
  const double moving = 1 / (1 - speed_ms * speed_ms / c2);
  contact_compliance_ = 1 / model.contact_stiffness_n_per_m;
  const double on_node = missing_compliance(wire, 0) * moving;
  const double midway = missing_compliance(wire, 0.5) * moving;
  compliance_on_node_ = contact_compliance_ + on_node;
  compliance_between_ = 4 * (midway - on_node);
  now_ = before_ = grid_point(grid, 0, at_m);
  height_now_ = height_before_ = shape_.height(at_m);
}

double ContactPoint::meet(LineMotion& line, PantographMotion& pantograph) {
  ++step_;
  const double next_m = start_m_ + speed_ms_ * (static_cast<double>(step_) * step_s_);
  const GridPoint next = grid_point(*grid_, 0, next_m);
  const double height_next = shape_.height(next_m);
  const double free_gap = pantograph.next_head() - height_next - line.next_lift(next);
  const double response = pantograph.head_response() + line.response(now_, next);
  const double mean_gap = (free_gap + 2 * gap_now_ + gap_before_) / 4;
  force_n_ = std::max(0.0, mean_gap / (compliance() + response / 4));
  const double rise = (height_next + line.lift(next) - height_before_ - line.lift(before_)) / 2;
  const double softer = (compliance_at(next.after) - compliance_at(before_.after)) / 2;
  traction_work_ = -force_n_ * rise - force_n_ * force_n_ * softer / 2;
  line.press({now_, force_n_});
  pantograph.press(force_n_);

  gap_before_ = gap_now_;
  gap_now_ = free_gap - response * force_n_;
  before_ = now_;
  now_ = next;
  height_before_ = height_now_;
  height_now_ = height_next;
  at_m_ = next_m;
  return force_n_;
}

}  // namespace panup
