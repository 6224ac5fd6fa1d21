#pragma once

#include <functional>

#include "drawing/canvas.h"

namespace panup {

/// A part of a sheet that is not divided: as high as it was measured, drawn wherever it ends up.
struct Block {
  double height = 0;
  /// Draws it with its top at `y`; across, it knows its places.
  std::function<void(Canvas& canvas, double y)> draw;
  bool stays_with_next = false;  ///< not left alone at the foot of a sheet
};

/// A block, and what it becomes as the first of its kind on a sheet, where it must say more: the
/// chainage or the name that the row above it would have said.
struct Row {
  Block block;
  Block on_new_sheet;
};

/// Places across a sheet, in points.
struct Columns {
  double left = 36;
  double spine = 94;    ///< the wire as it runs down the page; chainages stand left of it
  double body = 108;    ///< what stands beside the spine begins here
  double remedy = 376;  ///< what to do if an order cannot be carried out
  double right = 565;
};

}  // namespace panup
