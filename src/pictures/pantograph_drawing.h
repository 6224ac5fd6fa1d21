#pragma once

#include <vector>

#include "drawing/canvas.h"
#include "stock/layout.h"

namespace panup {

/// A pantograph seen from the side, the front of the train at the left. Its arms have the same
/// length up and down, so that the knuckle lies where it would.
struct DrawnPantograph {
  PantographRef ref;
  bool raised = false;
  bool defective = false;
  PantographFrame frame{};
  int strip_count = 0;
  Point head;                   ///< middle of the upper face of the contact strips
  Point foot;                   ///< where the lower arm turns
  std::vector<Point> knuckles;  ///< one; two for a diamond
  double head_length = 0;       ///< along the train
};

/// Where the parts of a roof are, in points: downwards is greater.
struct RoofHeights {
  double roof = 0;
  double wire = 0;
  double points_per_m = 0;  ///< scale of pantographs, which may be larger than that of the train
};

/// Places a pantograph with its head at `x`.
DrawnPantograph arrange_pantograph(const PlacedPantograph& placed, bool raised, double x,
                                   const RoofHeights& heights);

/// Draws it: raised in a heavy line, lowered in a thin one, crossed out where it is defective.
void draw_pantograph(Canvas& canvas, const DrawnPantograph& pantograph, Point origin,
                     const RoofHeights& heights);

}  // namespace panup
