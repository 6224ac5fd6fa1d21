#include "drawing/diagram.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "drawing/text_style.h"

namespace panup {

namespace {

constexpr double tick_length = 3;
constexpr double label_gap = 3;
constexpr double y_labels_width = 38;
constexpr double level_names_width = 92;
constexpr double level_leader = 8;
constexpr double support_height = 9;
constexpr double dropper_height = 4;
constexpr double between_y_ticks = 16;
constexpr int most_y_ticks = 9;
constexpr double between_x_labels = 14;
/// What lies nearer than this cannot be told apart on paper.
constexpr double finest = 0.4;
/// Marks of droppers that would run together are left out; so are those of supports.
constexpr double least_between_marks = 2;
constexpr Stroke axis_stroke{0.7};
constexpr Stroke grid_stroke{0.25, 1};
constexpr Stroke level_stroke{0.6, 4};

double x_at(const DiagramFrame& frame, double value) {
  const double held = std::clamp(value, frame.x.from, frame.x.to);
  return frame.area.x + frame.area.width * (held - frame.x.from) / frame.x.span();
}

double y_at(const DiagramFrame& frame, double value) {
  const double held = std::clamp(value, frame.y.from, frame.y.to);
  return frame.area.bottom() - frame.area.height * (held - frame.y.from) / frame.y.span();
}

/// Room for all that is drawn.
Axis y_axis(const Diagram& diagram, double height) {
  constexpr double endless = std::numeric_limits<double>::infinity();
  double least = diagram.from_zero ? 0 : endless;
  double greatest = diagram.from_zero ? 0 : -endless;
  const auto take_in = [&](double y) {
    if (std::isfinite(y)) {
      least = std::min(least, y);
      greatest = std::max(greatest, y);
    }
  };
  for (const DiagramCurve& curve : diagram.curves) {
    std::ranges::for_each(curve.points, [&](const Point& point) { take_in(point.y); });
  }
  std::ranges::for_each(diagram.levels, [&](const DiagramLevel& level) { take_in(level.y); });
  for (const DiagramBar& bar : diagram.bars) {
    constexpr double label_room = 13;
    take_in(bar.y);
    if (!bar.label.empty() && bar.y > 0 && height > 2 * label_room) {
      take_in(bar.y / (1 - label_room / height));
    }
  }
  return round_axis(least, greatest,
                    std::min(most_y_ticks, static_cast<int>(height / between_y_ticks)));
}

Axis x_axis(const TextSetter& setter, const Diagram& diagram, double width) {
  const auto width_of = [&](double value) {
    // Ticks may need two decimals more than the ends show.
    return setter.set(tick_words({}, value) + ".00", small).width();
  };
  const double widest = std::max(width_of(diagram.x_from), width_of(diagram.x_to));
  return axis_within(diagram.x_from, diagram.x_to,
                     static_cast<int>(width / (widest + between_x_labels)));
}

/// "; heights drawn 25 times as large as lengths", or nothing.
std::string scale_words(const Diagram& diagram, const DiagramFrame& frame, const Words& words) {
  if (diagram.y_units_of_x_unit <= 0) {
    return {};
  }
  const double up = frame.area.height / (frame.y.span() / diagram.y_units_of_x_unit);
  const double along = frame.area.width / frame.x.span();
  return up < 10 * along
             ? words.say("; heights drawn {:.1f} times as large as lengths", up / along)
             : words.say("; heights drawn {:.0f} times as large as lengths", up / along);
}

bool within(double value, const Axis& axis) { return value >= axis.from && value <= axis.to; }

void draw_level_names(Canvas& canvas, const TextSetter& setter, const Diagram& diagram,
                      const DiagramFrame& frame) {
  std::vector<double> wanted(diagram.levels.size());
  std::ranges::transform(diagram.levels, wanted.begin(),
                         [&](const DiagramLevel& level) { return y_at(frame, level.y); });
  const double height = setter.set("0", small).height();
  const std::vector<double> places =
      spread(wanted, height, frame.area.y - height / 2, frame.area.bottom() + height / 2);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double right = frame.area.right();
    canvas.line({right, wanted[i]}, {right + level_leader, places[i]}, {0.3});
    canvas.text(setter.set(diagram.levels[i].name, small),
                {right + level_leader + label_gap, places[i] - height / 2});
  }
}

void draw_y_axis(Canvas& canvas, const TextSetter& setter, const DiagramFrame& frame) {
  const Box& area = frame.area;
  for (const double tick : frame.y.ticks) {
    const double at = y_at(frame, tick);
    canvas.line({area.x, at}, {area.right(), at}, grid_stroke);
    canvas.line({area.x - tick_length, at}, {area.x, at}, axis_stroke);
    const Text label = setter.set(tick_words(frame.y, tick, setter.words()), small);
    canvas.text(label, {area.x - tick_length - label_gap - label.width(), at - label.height() / 2});
  }
  canvas.line({area.x, area.y}, {area.x, area.bottom()}, axis_stroke);
}

void draw_x_axis(Canvas& canvas, const TextSetter& setter, const DiagramFrame& frame) {
  const Box& area = frame.area;
  for (const double tick : frame.x.ticks) {
    const double at = x_at(frame, tick);
    canvas.line({at, area.bottom()}, {at, area.bottom() + tick_length}, axis_stroke);
    const Text label = setter.set(tick_words(frame.x, tick, setter.words()), small);
    canvas.text(label, {at - label.width() / 2, area.bottom() + tick_length + 1});
  }
  canvas.line({area.x, area.bottom()}, {area.right(), area.bottom()}, axis_stroke);
}

void draw_bars(Canvas& canvas, const Diagram& diagram, const DiagramFrame& frame) {
  for (const DiagramBar& bar : diagram.bars) {
    if (!std::isfinite(bar.y)) {
      continue;
    }
    const double foot = y_at(frame, 0);
    const double end = y_at(frame, bar.y);
    const double left = x_at(frame, bar.from);
    const Box drawn{left, std::min(foot, end), x_at(frame, bar.to) - left, std::abs(foot - end)};
    if (bar.fill == BarFill::black) {
      canvas.fill(drawn);
      continue;
    }
    canvas.fill(drawn, Ink::white);
    if (bar.fill == BarFill::hatched) {
      canvas.hatch(drawn, 3, {0.3});
    }
    canvas.frame(drawn, {0.5});
  }
}

bool touch(const Box& a, const Box& b) {
  return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

/// Labels stand on white, so that no line runs through them.
void draw_bar_labels(Canvas& canvas, const TextSetter& setter, const Diagram& diagram,
                     const DiagramFrame& frame) {
  std::vector<const DiagramBar*> bars;
  for (const DiagramBar& bar : diagram.bars) {
    if (!bar.label.empty() && std::isfinite(bar.y)) {
      bars.push_back(&bar);
    }
  }
  std::ranges::stable_sort(bars, std::ranges::greater{}, &DiagramBar::y);
  std::vector<Box> taken;
  for (const DiagramBar* const bar : bars) {
    const Text label = setter.set(bar->label, small);
    const double middle = (x_at(frame, bar->from) + x_at(frame, bar->to)) / 2;
    const Box box{middle - label.width() / 2 - 1, y_at(frame, bar->y) - label.height() - 1,
                  label.width() + 2, label.height()};
    const bool inside =
        box.x >= frame.area.x && box.right() <= frame.area.right() && box.y >= frame.area.y - 1;
    if (inside &&
        std::ranges::none_of(taken, [&](const Box& other) { return touch(box, other); })) {
      taken.push_back(box);
      canvas.fill(box, Ink::white);
      canvas.text(label, {box.x + 1, box.y});
    }
  }
}

/// Marks along the x axis; none where they would run together.
void draw_marks(Canvas& canvas, const std::vector<double>& marks, const DiagramFrame& frame,
                double height, double width) {
  const double room = static_cast<double>(marks.size()) * least_between_marks;
  if (room > frame.area.width) {
    return;
  }
  for (const double mark : marks) {
    if (within(mark, frame.x)) {
      const double x = x_at(frame, mark);
      canvas.line({x, frame.area.bottom()}, {x, frame.area.bottom() - height}, {width});
    }
  }
}

void draw_stretches(Canvas& canvas, const Diagram& diagram, const DiagramFrame& frame) {
  constexpr double height = 5;
  constexpr double least_width = 1;
  for (const DiagramStretch& stretch : diagram.stretches) {
    const double from = x_at(frame, stretch.from);
    const double width = std::max(least_width, x_at(frame, stretch.to) - from);
    canvas.fill(Box{from, frame.area.y, std::min(width, frame.area.right() - from), height});
  }
}

void draw_curve(Canvas& canvas, const DiagramCurve& curve, const DiagramFrame& frame) {
  std::vector<Point> drawn;
  const auto end_piece = [&] {
    if (drawn.size() > 1) {
      canvas.polyline(thinned(drawn, finest), curve.stroke);
    }
    drawn.clear();
  };
  for (const Point& point : curve.points) {
    if (std::isfinite(point.y) && within(point.x, frame.x)) {
      drawn.push_back({x_at(frame, point.x), y_at(frame, point.y)});
    } else {
      end_piece();
    }
  }
  end_piece();
}

}  // namespace

DiagramFrame frame_of(const TextSetter& setter, const Box& box, const Diagram& diagram) {
  const double line = setter.set("0", small).height();
  const double names_width = diagram.levels.empty() ? 14 : level_names_width;
  DiagramFrame frame;
  frame.area.x = box.x + y_labels_width;
  frame.area.y = box.y + 2 * line + 9;
  frame.area.width = box.width - y_labels_width - names_width;
  frame.area.height =
      box.bottom() - frame.area.y - (diagram.x_name.empty() ? 1 : 2) * line - tick_length - 2;
  frame.y = y_axis(diagram, frame.area.height);
  frame.x = x_axis(setter, diagram, frame.area.width);
  return frame;
}

void draw_diagram(Canvas& canvas, const TextSetter& setter, const Box& box,
                  const Diagram& diagram) {
  const DiagramFrame frame = frame_of(setter, box, diagram);
  const Box& area = frame.area;
  const Text heading = setter.set(diagram.heading, small_bold);
  canvas.text(heading, {box.x, box.y});
  const Text y_name =
      setter.set(diagram.y_name + scale_words(diagram, frame, setter.words()), small);
  canvas.text(y_name, {box.x, box.y + heading.height() + 1});
  const Text x_name = setter.set(diagram.x_name, small);
  draw_y_axis(canvas, setter, frame);
  draw_bars(canvas, diagram, frame);
  draw_marks(canvas, diagram.supports, frame, support_height, 1.2);
  draw_marks(canvas, diagram.droppers, frame, dropper_height, 0.4);
  for (const DiagramLevel& level : diagram.levels) {
    canvas.line({area.x, y_at(frame, level.y)}, {area.right(), y_at(frame, level.y)}, level_stroke);
  }
  for (const DiagramUpright& upright : diagram.uprights) {
    if (within(upright.x, frame.x)) {
      const double x = x_at(frame, upright.x);
      canvas.line({x, area.y}, {x, area.bottom()}, upright.dashed ? level_stroke : Stroke{0.8});
    }
  }
  for (const DiagramCurve& curve : diagram.curves) {
    draw_curve(canvas, curve, frame);
  }
  draw_stretches(canvas, diagram, frame);
  draw_bar_labels(canvas, setter, diagram, frame);
  draw_x_axis(canvas, setter, frame);
  if (!diagram.x_name.empty()) {
    canvas.text(x_name, {area.right() - x_name.width(), box.bottom() - x_name.height()});
  }
  draw_level_names(canvas, setter, diagram, frame);
}

}  // namespace panup
