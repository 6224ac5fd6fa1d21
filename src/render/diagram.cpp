#include "render/diagram.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "render/card_style.h"

namespace panup {

namespace {

constexpr double tick_length = 3;
constexpr double label_gap = 3;
constexpr double y_labels_width = 34;
constexpr double level_names_width = 92;
constexpr double names_apart = 11;
constexpr double support_height = 12;
constexpr double dropper_height = 5;
constexpr double between_y_ticks = 24;
constexpr double between_x_ticks = 60;
constexpr Stroke axis_stroke{0.7};
constexpr Stroke grid_stroke{0.25, 1};
constexpr Stroke level_stroke{0.6, 4};

struct Scale {
  double from = 0;
  double to = 1;
  double start = 0;  ///< on the sheet
  double end = 1;

  double at(double value) const { return start + (value - from) / (to - from) * (end - start); }
};

double apart_of(const std::vector<double>& ticks) {
  return ticks.size() > 1 ? ticks[1] - ticks[0] : 1;
}

/// Room for all that is drawn, out to the next ticks.
std::pair<double, double> y_range(const Diagram& diagram, int ticks) {
  constexpr double endless = std::numeric_limits<double>::infinity();
  double least = diagram.from_zero ? 0 : endless;
  double greatest = diagram.from_zero ? 0 : -endless;
  const auto take_in = [&](double y) {
    least = std::min(least, y);
    greatest = std::max(greatest, y);
  };
  for (const DiagramCurve& curve : diagram.curves) {
    std::ranges::for_each(curve.points, [&](const Point& point) { take_in(point.y); });
  }
  std::ranges::for_each(diagram.levels, [&](const DiagramLevel& level) { take_in(level.y); });
  std::ranges::for_each(diagram.bars, [&](const DiagramBar& bar) { take_in(bar.y); });
  if (!std::isfinite(least)) {
    return {0, 1};
  }
  if (least == greatest) {
    return {least - 1, least + 1};
  }
  const double apart = apart_of(round_ticks(least, greatest, ticks));
  return {std::floor(least / apart + 1e-9) * apart, std::ceil(greatest / apart - 1e-9) * apart};
}

std::string tick_text(double value, double apart) {
  const int decimals = std::max(0, -static_cast<int>(std::floor(std::log10(apart) + 1e-9)));
  const std::string digits = fmt::format("{:.{}f}", std::abs(value), decimals);
  return value < -apart / 2 ? "−" + digits : digits;
}

/// Names of levels are kept apart, each as near to its level as the others let it.
std::vector<double> spread(std::vector<double> places) {
  std::vector<std::size_t> order(places.size());
  std::iota(order.begin(), order.end(), 0);
  std::ranges::sort(order, {}, [&](std::size_t i) { return places[i]; });
  for (std::size_t k = 1; k < order.size(); ++k) {
    places[order[k]] = std::max(places[order[k]], places[order[k - 1]] + names_apart);
  }
  return places;
}

void draw_level_names(Canvas& canvas, const TextSetter& setter, const Diagram& diagram,
                      const Scale& y, double right) {
  std::vector<double> places;
  for (const DiagramLevel& level : diagram.levels) {
    places.push_back(y.at(level.y));
  }
  places = spread(places);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const Text name = setter.set(diagram.levels[i].name, small);
    canvas.text(name, {right + label_gap, places[i] - name.height() / 2});
  }
}

void draw_y_axis(Canvas& canvas, const TextSetter& setter, const Box& area, const Scale& y) {
  const auto count = std::max(2, static_cast<int>(area.height / between_y_ticks));
  const std::vector<double> ticks = round_ticks(y.from, y.to, count);
  for (const double tick : ticks) {
    const double at = y.at(tick);
    canvas.line({area.x, at}, {area.right(), at}, grid_stroke);
    canvas.line({area.x - tick_length, at}, {area.x, at}, axis_stroke);
    const Text label = setter.set(tick_text(tick, apart_of(ticks)), small);
    canvas.text(label, {area.x - tick_length - label_gap - label.width(), at - label.height() / 2});
  }
  canvas.line({area.x, area.y}, {area.x, area.bottom()}, axis_stroke);
}

void draw_x_axis(Canvas& canvas, const TextSetter& setter, const Box& area, const Scale& x) {
  const auto count = std::max(2, static_cast<int>(area.width / between_x_ticks));
  const std::vector<double> ticks = round_ticks(x.from, x.to, count);
  for (const double tick : ticks) {
    const double at = x.at(tick);
    canvas.line({at, area.bottom()}, {at, area.bottom() + tick_length}, axis_stroke);
    const Text label = setter.set(tick_text(tick, apart_of(ticks)), small);
    canvas.text(label, {at - label.width() / 2, area.bottom() + tick_length + 1});
  }
  canvas.line({area.x, area.bottom()}, {area.right(), area.bottom()}, axis_stroke);
}

void draw_bars(Canvas& canvas, const Diagram& diagram, const Scale& x, const Scale& y) {
  for (const DiagramBar& bar : diagram.bars) {
    const double top = std::min(y.at(bar.y), y.at(0));
    const Box drawn{x.at(bar.from), top, x.at(bar.to) - x.at(bar.from),
                    std::abs(y.at(bar.y) - y.at(0))};
    if (bar.filled) {
      canvas.fill(drawn);
    } else {
      canvas.hatch(drawn, 3, {0.3});
      canvas.frame(drawn, {0.5});
    }
  }
}

}  // namespace

std::vector<double> round_ticks(double from, double to, int count) {
  const double rough = (to - from) / std::max(1, count);
  const double power = std::pow(10, std::floor(std::log10(rough)));
  const double share = rough / power;
  const double apart = power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
  std::vector<double> ticks;
  const auto first = static_cast<long>(std::ceil(from / apart - 1e-9));
  const auto last = static_cast<long>(std::floor(to / apart + 1e-9));
  for (long tick = first; tick <= last; ++tick) {
    ticks.push_back(static_cast<double>(tick) * apart);
  }
  return ticks;
}

std::vector<Point> thinned(const std::vector<Point>& points, std::size_t columns) {
  if (points.size() <= 2 * columns) {
    return points;
  }
  std::vector<Point> kept;
  for (std::size_t column = 0; column < columns; ++column) {
    const auto first = points.begin() + static_cast<long>(column * points.size() / columns);
    const auto last = points.begin() + static_cast<long>((column + 1) * points.size() / columns);
    const auto [least, greatest] =
        std::minmax_element(first, last, [](const Point& a, const Point& b) { return a.y < b.y; });
    kept.push_back(*std::min(least, greatest));
    kept.push_back(*std::max(least, greatest));
  }
  return kept;
}

void draw_diagram(Canvas& canvas, const TextSetter& setter, const Box& box,
                  const Diagram& diagram) {
  const Text heading = setter.set(diagram.heading, small_bold);
  canvas.text(heading, {box.x, box.y});
  const Text y_name = setter.set(diagram.y_name, small);
  canvas.text(y_name, {box.x, box.y + heading.height() + 1});
  const Text x_name = setter.set(diagram.x_name, small);
  const double names_width = diagram.levels.empty() ? 14 : level_names_width;
  Box area;
  area.x = box.x + y_labels_width;
  area.y = box.y + heading.height() + y_name.height() + 9;
  area.width = box.width - y_labels_width - names_width;
  area.height = box.bottom() - area.y - 2 * x_name.height() - tick_length - 2;

  const auto [least, greatest] =
      y_range(diagram, std::max(2, static_cast<int>(area.height / between_y_ticks)));
  const Scale y{least, greatest, area.bottom(), area.y};
  const Scale x{diagram.x_from, diagram.x_to, area.x, area.right()};
  draw_bars(canvas, diagram, x, y);
  for (const double support : diagram.supports) {
    canvas.line({x.at(support), area.bottom()}, {x.at(support), area.bottom() - support_height},
                {1.2});
  }
  for (const double dropper : diagram.droppers) {
    canvas.line({x.at(dropper), area.bottom()}, {x.at(dropper), area.bottom() - dropper_height},
                {0.4});
  }
  for (const DiagramLevel& level : diagram.levels) {
    canvas.line({area.x, y.at(level.y)}, {area.right(), y.at(level.y)}, level_stroke);
  }
  for (const DiagramCurve& curve : diagram.curves) {
    std::vector<Point> drawn = curve.points;
    for (Point& point : drawn) {
      point = {x.at(point.x), y.at(point.y)};
    }
    canvas.polyline(thinned(drawn, static_cast<std::size_t>(2 * area.width)), curve.stroke);
  }
  draw_y_axis(canvas, setter, area, y);
  draw_x_axis(canvas, setter, area, x);
  canvas.text(x_name, {area.right() - x_name.width(), box.bottom() - x_name.height()});
  draw_level_names(canvas, setter, diagram, y, area.right());
}

}  // namespace panup
