#pragma once

#include <string>
#include <vector>

#include "render/canvas.h"

namespace panup {

/// A line through points, in the units of the axes, by rising x.
struct DiagramCurve {
  std::vector<Point> points;
  Stroke stroke;
};

/// A level line across a diagram, with its name at the right.
struct DiagramLevel {
  double y = 0;
  std::string name;
};

/// A bar that stands on 0.
struct DiagramBar {
  double from = 0;
  double to = 0;
  double y = 0;
  bool filled = true;  ///< or hatched
};

/// A diagram with two linear axes. Ticks are round numbers. The y axis takes in all that is drawn,
/// and 0 if `from_zero`.
struct Diagram {
  std::string heading;
  std::string x_name;
  std::string y_name;
  double x_from = 0;
  double x_to = 1;
  bool from_zero = true;
  std::vector<DiagramCurve> curves;
  std::vector<DiagramLevel> levels;
  std::vector<DiagramBar> bars;
  std::vector<double> supports;  ///< x of supports: strokes up from the x axis
  std::vector<double> droppers;  ///< x of droppers: short ones
};

/// Round numbers from `from` to `to` inclusive, about `count` of them, 1, 2 or 5 times a power of
/// ten apart.
std::vector<double> round_ticks(double from, double to, int count);

/// At most two points for each of `columns` columns: the least and the greatest of it, as they
/// come. A curve that is drawn so narrow looks the same.
std::vector<Point> thinned(const std::vector<Point>& points, std::size_t columns);

void draw_diagram(Canvas& canvas, const TextSetter& setter, const Box& box, const Diagram& diagram);

}  // namespace panup
