#pragma once

namespace panup {

/// A point on a sheet, in points of 1/72 inch from its upper left corner.
struct Point {
  double x = 0;
  double y = 0;
};

/// An upright rectangle on a sheet, in points.
struct Box {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

}  // namespace panup
