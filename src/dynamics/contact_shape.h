#pragma once

#include <vector>

#include "dynamics/statics.h"

namespace panup {

/// Height of the contact wire's static shape along the track, for places asked in rising order.
/// `nodes` must outlive it; beyond its ends the shape goes on level.
class ShapeWalk {
 public:
  explicit ShapeWalk(const std::vector<ShapeNode>& nodes) : nodes_(&nodes) {}

  double height(double at_m);

 private:
  const std::vector<ShapeNode>* nodes_;
  std::size_t after_ = 0;  ///< the first node beyond the place asked last
};

}  // namespace panup
