#pragma once

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "drawing/canvas.h"
#include "quality/envelope.h"

namespace panup {

/// A value of an axis as a place on the sheet.
struct Scale {
  double from = 0;
  double to = 1;
  double at_from = 0;
  double at_to = 1;

  /// Values beyond the ends are held at them.
  double operator()(double value) const {
    const double held = std::clamp(value, from, to);
    return at_from + (at_to - at_from) * (held - from) / (to - from);
  }
};

/// The area of the picture of an envelope, which ends at the first and the last of the distances
/// and speeds asked for: nothing beyond was computed.
struct EnvelopePlot {
  Box area;
  Scale x;                        ///< of distances
  Scale y;                        ///< of speeds
  std::vector<double> x_borders;  ///< of columns about the distances, on the sheet
};

EnvelopePlot plot_of(const Envelope& envelope, const Box& area);

/// How a judged speed is shown: classes of margin, and what fails.
struct Shade {
  double margin_from = 0;  ///< of the class
  double level = 1;        ///< of grey
  bool fails = false;      ///< hatched as well
  std::string_view words;
};

/// From the lightest to the darkest.
inline constexpr std::array shades{Shade{0.25, 1.0, false, "passes, margin 25 % or more"},
                                   Shade{0.10, 0.88, false, "passes, margin 10 to 25 %"},
                                   Shade{0.0, 0.74, false, "passes, margin below 10 %"},
                                   Shade{-1.0, 0.5, true, "fails"}};

/// Fills boxes with one of them.
void fill_with(Canvas& canvas, const std::vector<Box>& boxes, const Shade& shade);

/// The judged speeds as a map.
void draw_envelope_cells(Canvas& canvas, const Envelope& envelope, const EnvelopePlot& plot);

/// Permitted speed, published table and samples over the map, with their names at the right of it;
/// they take `curve_names_width`.
inline constexpr double curve_names_width = 126;
void draw_envelope_curves(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
                          const EnvelopePlot& plot);

/// Permitted speed as figures, where there is room for all of them, and what decides, in rows below
/// the distances. Their height is `figure_rows_height`, their upper left corner `at`.
inline constexpr double figure_rows_height = 26;
void draw_figure_rows(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
                      const EnvelopePlot& plot, Point at);

/// What shades and letters mean.
void draw_envelope_legend(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
                          Point at);

}  // namespace panup
