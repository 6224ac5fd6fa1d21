#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "drawing/canvas.h"
#include "drawing/diagram_axis.h"

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

enum class BarFill : std::uint8_t { black, hatched, open };

/// A bar that stands on 0.
struct DiagramBar {
  double from = 0;
  double to = 0;
  double y = 0;
  BarFill fill = BarFill::black;
  std::string label;  ///< above it, where there is room
};

/// An upright line across a diagram.
struct DiagramUpright {
  double x = 0;
  bool dashed = false;
};

/// A stretch of the x axis that is marked by a black strip along it.
struct DiagramStretch {
  double from = 0;
  double to = 0;
};

/// A diagram with two linear axes, in the language of the setter that draws it. Ticks are round
/// numbers. The y axis takes in all that is drawn, and 0 if `from_zero`.
struct Diagram {
  std::string heading;
  std::string x_name;
  std::string y_name;
  double x_from = 0;
  double x_to = 1;
  bool from_zero = true;
  /// Where both axes are lengths: how many units of y a unit of x is. The diagram then says how
  /// much larger heights are drawn than lengths. 0: they are not comparable.
  double y_units_of_x_unit = 0;
  std::vector<DiagramCurve> curves;
  std::vector<DiagramLevel> levels;
  std::vector<DiagramBar> bars;  ///< labels of the highest are set first
  std::vector<DiagramUpright> uprights;
  std::vector<DiagramStretch> stretches;
  std::vector<double> supports;  ///< x of supports: strokes up from the x axis
  std::vector<double> droppers;  ///< x of droppers: short ones
};

/// A diagram as it lies in its box: the area within the axes, and their ranges.
struct DiagramFrame {
  Box area;
  Axis x;
  Axis y;
};

/// What the diagram would be drawn on: for what is told of its scale.
DiagramFrame frame_of(const TextSetter& setter, const Box& box, const Diagram& diagram);

/// Draws it. No two of its texts touch, and none leaves the box; what is no number is left out.
void draw_diagram(Canvas& canvas, const TextSetter& setter, const Box& box, const Diagram& diagram);

}  // namespace panup
