#include "dynamics/contact_shape.h"

namespace panup {

double ShapeWalk::height(double at_m) {
  const std::vector<ShapeNode>& nodes = *nodes_;
  while (after_ < nodes.size() && nodes[after_].at_m <= at_m) {
    ++after_;
  }
  if (after_ == 0) {
    return nodes.front().height_m;
  }
  if (after_ == nodes.size()) {
    return nodes.back().height_m;
  }
  const ShapeNode& a = nodes[after_ - 1];
  const ShapeNode& b = nodes[after_];
  const double l = b.at_m - a.at_m;
  const double t = (at_m - a.at_m) / l;
  const double u = 1 - t;
  return u * u * (1 + 2 * t) * a.height_m + t * t * (1 + 2 * u) * b.height_m +
         l * t * u * (u * a.slope_after - t * b.slope_before);
}

}  // namespace panup
