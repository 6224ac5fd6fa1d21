#include "render/plot.h"

#include <algorithm>
#include <cmath>


namespace panup {

namespace {

constexpr double tick_length = 3;
constexpr double label_gap = 4;
constexpr double key_sample_width = 20;
constexpr double key_gap = 16;
/// Lines finer than this cannot be told apart on paper.
constexpr double finest_pt = 0.4;
constexpr Stroke axis_stroke{.width = 0.6};
constexpr Stroke grid_stroke{.width = 0.25, .dash = 1.2};

double line_height(const TextSetter& setter) { return setter.set("0", plot_small).height(); }

/// Lays keys out in rows and hands each to `draw`; the height taken.
template <typename Draw>
double lay_out_keys(const TextSetter& setter, const std::vector<PlotKey>& keys, Point at,
                    double right, const Draw& draw) {
  double x = at.x;
  double y = at.y;
  const double height = line_height(setter);
  for (const PlotKey& key : keys) {
    const Text words = setter.set(key.words, plot_small);
    const double width = key_sample_width + label_gap + words.width();
    if (x > at.x && x + width > right) {
      x = at.x;
      y += height + 2;
    }
    draw(key, words, Point{x, y});
    x += width + key_gap;
  }
  return keys.empty() ? 0 : y + height - at.y;
}

}  // namespace

double Panel::x_of(double value) const {
  const double held = std::clamp(value, x.from, x.to);
  return box.x + box.width * (held - x.from) / x.span();
}

double Panel::y_of(double value) const {
  const double held = std::clamp(value, y.from, y.to);
  return box.bottom() - box.height * (held - y.from) / y.span();
}

PanelRoom room_about(const TextSetter& setter, const PanelWords& words) {
  const double height = line_height(setter);
  PanelRoom room;
  room.above = words.title.empty() && words.what_y.empty() ? height / 2 : height + 4;
  room.below = 4;
  if (words.x_labels) {
    room.below += words.x_labels_below + height;
  }
  if (!words.what_x.empty()) {
    room.below += height;
  }
  room.left = setter.set("−0000", plot_small).width() + tick_length + label_gap;
  return room;
}

int most_ticks_across(const TextSetter& setter, double from, double to, double width) {
  // Two digits more than the ends need before the point: ticks may have decimals.
  const auto width_of = [&](double value) {
    return setter.set(tick_words({}, value) + ".00", plot_small).width();
  };
  const double widest = std::max(width_of(from), width_of(to)) + 12;
  return std::clamp(static_cast<int>(width / widest), 2, 16);
}

int most_ticks_up(double height) {
  constexpr double least_distance = 18;
  return std::clamp(static_cast<int>(height / least_distance), 3, 9);
}

void draw_axes(Canvas& canvas, const TextSetter& setter, const Panel& panel,
               const PanelWords& words) {
  const Box& box = panel.box;
  for (const double tick : panel.y.ticks) {
    const double y = panel.y_of(tick);
    const bool at_end = y <= box.y + finest_pt || y >= box.bottom() - finest_pt;
    if (!at_end) {
      canvas.line({box.x, y}, {box.right(), y}, grid_stroke);
    }
    canvas.line({box.x - tick_length, y}, {box.x, y}, axis_stroke);
    const Text label = setter.set(tick_words(panel.y, tick), plot_small);
    canvas.text(label, {box.x - tick_length - label_gap / 2 - label.width(), y - label.height() / 2});
  }
  double below = box.bottom() + words.x_labels_below;
  for (const double tick : panel.x.ticks) {
    const double x = panel.x_of(tick);
    canvas.line({x, box.bottom()}, {x, box.bottom() - tick_length}, axis_stroke);
    if (words.x_labels) {
      const Text label = setter.set(tick_words(panel.x, tick), plot_small);
      canvas.text(label, {x - label.width() / 2, below});
    }
  }
  below += words.x_labels ? line_height(setter) : 0;
  if (!words.what_x.empty()) {
    const Text what = setter.set(words.what_x, plot_small);
    canvas.text(what, {box.right() - what.width(), below});
  }
  canvas.frame(box, axis_stroke);
  std::vector<TextSpan> title;
  if (!words.title.empty()) {
    title.push_back({words.title + (words.what_y.empty() ? "" : "   "), plot_bold});
  }
  if (!words.what_y.empty()) {
    title.push_back({words.what_y, plot_small});
  }
  if (!title.empty()) {
    const Text text = setter.set(title);
    canvas.text(text, {box.x, box.y - text.height() - 3});
  }
}

void draw_curve(Canvas& canvas, const Panel& panel, const std::vector<double>& x,
                const std::vector<double>& y, Stroke stroke) {
  std::vector<Point> points;
  const auto flush = [&] {
    if (points.size() > 1) {
      canvas.polyline(thinned(points, finest_pt), stroke);
    }
    points.clear();
  };
  for (std::size_t i = 0; i < std::min(x.size(), y.size()); ++i) {
    if (std::isfinite(x[i]) && std::isfinite(y[i]) && x[i] >= panel.x.from && x[i] <= panel.x.to) {
      points.push_back({panel.x_of(x[i]), panel.y_of(y[i])});
    } else {
      flush();
    }
  }
  flush();
}

void draw_level(Canvas& canvas, const Panel& panel, double y, Stroke stroke) {
  canvas.line({panel.box.x, panel.y_of(y)}, {panel.box.right(), panel.y_of(y)}, stroke);
}

void draw_level_labels(Canvas& canvas, const TextSetter& setter, const Panel& panel,
                       const std::vector<LevelLabel>& labels, double width) {
  constexpr double leader = 10;
  std::vector<double> wanted(labels.size());
  std::ranges::transform(labels, wanted.begin(),
                         [&](const LevelLabel& label) { return panel.y_of(label.y); });
  const double height = line_height(setter);
  const std::vector<double> places =
      spread(wanted, height, panel.box.y - height / 2, panel.box.bottom() + height / 2);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const double right = panel.box.right();
    canvas.line({right, wanted[i]}, {right + leader, places[i]}, {.width = 0.3});
    const Text text = setter.set(labels[i].words, plot_small, width - leader - 3);
    canvas.text(text, {right + leader + 3, places[i] - height / 2});
  }
}

bool LabelSpace::take(const Box& box) {
  const bool inside = box.x >= within_.x && box.y >= within_.y &&
                      box.right() <= within_.right() && box.bottom() <= within_.bottom();
  const bool free = std::ranges::none_of(taken_, [&](const Box& other) {
    return box.x < other.right() && other.x < box.right() && box.y < other.bottom() &&
           other.y < box.bottom();
  });
  if (inside && free) {
    taken_.push_back(box);
  }
  return inside && free;
}

double draw_keys(Canvas& canvas, const TextSetter& setter, const std::vector<PlotKey>& keys,
                 Point at, double right) {
  return lay_out_keys(
      setter, keys, at, right, [&](const PlotKey& key, const Text& words, Point place) {
        key.sample(canvas, {place.x, place.y, key_sample_width, words.height()});
        canvas.text(words, {place.x + key_sample_width + label_gap, place.y});
      });
}

double height_of_keys(const TextSetter& setter, const std::vector<PlotKey>& keys, double left,
                      double right) {
  return lay_out_keys(setter, keys, {left, 0}, right, [](const auto&, const auto&, Point) {});
}

PlotKey line_key(Stroke stroke, std::string words) {
  return {[stroke](Canvas& canvas, const Box& box) {
            const double y = box.y + box.height / 2;
            canvas.line({box.x, y}, {box.right(), y}, stroke);
          },
          std::move(words)};
}

}  // namespace panup
