#pragma once

#include <functional>
#include <string>
#include <vector>

#include "render/canvas.h"
#include "render/plot_axis.h"

namespace panup {

/// A plot of values over others: the rectangle that its axes bound, and their ranges. What is drawn
/// stays within; values beyond an axis are drawn at its end.
struct Panel {
  Box box;
  Axis x;
  Axis y;

  double x_of(double value) const;
  double y_of(double value) const;
};

/// What is written about a panel.
struct PanelWords {
  std::string title;          ///< above, left, bold
  std::string what_y;         ///< behind the title: quantity and unit of the vertical axis
  std::string what_x;         ///< below: quantity and unit of the horizontal axis; may be empty
  bool x_labels = true;       ///< figures at the ticks of the horizontal axis
  double x_labels_below = 3;  ///< gap between the box and these figures
};

/// Room that words take around a panel's box, in points.
struct PanelRoom {
  double above = 0;
  double below = 0;
  double left = 0;
};

/// Type of the words about a panel.
inline constexpr TextStyle plot_small{.size_pt = 8.5};
inline constexpr TextStyle plot_bold{.size_pt = 8.5, .weight = FontWeight::bold};

PanelRoom room_about(const TextSetter& setter, const PanelWords& words);

/// As many ticks as a horizontal axis of that width has room for, with figures as long as those of
/// the range's ends.
int most_ticks_across(const TextSetter& setter, double from, double to, double width);
/// As many ticks as a vertical axis of that height has room for.
int most_ticks_up(double height);

/// Frame, ticks, faint lines across at the ticks of the vertical axis, and words. No two of its
/// texts touch.
void draw_axes(Canvas& canvas, const TextSetter& setter, const Panel& panel,
               const PanelWords& words);

/// A line through values over others, thinned to what can be told apart. What is no number or lies
/// beyond the horizontal axis is left out.
void draw_curve(Canvas& canvas, const Panel& panel, const std::vector<double>& x,
                const std::vector<double>& y, Stroke stroke);

/// A line across the panel at a value.
void draw_level(Canvas& canvas, const Panel& panel, double y, Stroke stroke);

/// A label beside a panel, level with a value.
struct LevelLabel {
  double y = 0;
  std::string words;
};

/// Labels right of the box, each level with its value or as near to it as those of others allow,
/// with a thin line to where it belongs.
void draw_level_labels(Canvas& canvas, const TextSetter& setter, const Panel& panel,
                       const std::vector<LevelLabel>& labels, double width);

/// Keeps texts off each other: says whether a text has room, and takes it.
class LabelSpace {
 public:
  explicit LabelSpace(Box within) : within_(within) {}

  /// True, and the room taken, if the box lies within and touches none taken before.
  bool take(const Box& box);

 private:
  Box within_;
  std::vector<Box> taken_;
};

/// What a sign in a plot means: a sample of it and words.
struct PlotKey {
  std::function<void(Canvas&, const Box&)> sample;
  std::string words;
};

/// The keys in rows from `at` on, no further right than `right`. Height taken.
double draw_keys(Canvas& canvas, const TextSetter& setter, const std::vector<PlotKey>& keys,
                 Point at, double right);
/// The height that they take.
double height_of_keys(const TextSetter& setter, const std::vector<PlotKey>& keys, double left,
                      double right);

/// A key of a line.
PlotKey line_key(Stroke stroke, std::string words);

}  // namespace panup
