#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/handed_out.h"
#include "figures/simulation_diagrams.h"

namespace panup {

namespace {

constexpr Stroke wire{0.9};
/// Ends differ from what lies between: so many spans in the middle stand for the line.
constexpr std::size_t spans_shown = 3;

struct Shown {
  std::size_t from_span = 0;
  std::size_t to_span = 0;
  double from_m = 0;
  double to_m = 0;

  bool holds(double at_m) const { return lies_in(at_m, from_m, to_m); }
};

Shown shown_of(const StaticReport& report, const std::vector<double>& supports) {
  const std::size_t from = report.points_from_span;
  const std::size_t to = report.points_to_span;
  const std::size_t count = std::min(spans_shown, to - from);
  const std::size_t first = from + (to - from - count) / 2;
  return {first, first + count, supports[first], supports[first + count]};
}

/// Of points by rising x.
double height_at(const std::vector<Point>& points, double x) {
  const auto after = std::ranges::lower_bound(points, x, {}, &Point::x);
  if (after == points.begin() || after == points.end()) {
    return points.empty() ? 0 : (after == points.end() ? points.back().y : after->y);
  }
  const Point& a = *(after - 1);
  const Point& b = *after;
  return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
}

/// The contact wire with its corners at droppers and supports, in m.
std::vector<Point> contact_wire(const StaticReport& report, const Shown& shown) {
  std::vector<Point> points;
  for (const ShapeNode& node : report.state.contact_shape) {
    if (shown.holds(node.at_m)) {
      points.push_back({node.at_m, node.height_m});
    }
  }
  for (const StaticPoint& point : report.points) {
    if (shown.holds(point.at_m)) {
      points.push_back({point.at_m, point.contact_wire_m});
    }
  }
  std::ranges::stable_sort(points, {}, &Point::x);
  return points;
}

template <typename Value>
std::vector<Point> along(const StaticReport& report, const Shown& shown, Value value) {
  std::vector<Point> points;
  for (const StaticPoint& point : report.points) {
    if (shown.holds(point.at_m)) {
      points.push_back({point.at_m, value(point)});
    }
  }
  return points;
}

/// The stitch wire about a support, through the tops of what hangs from it.
std::vector<Point> stitch_wire(const StaticReport& report, double support_m, double length_m,
                               const std::vector<Point>& contact,
                               const std::vector<Point>& messenger) {
  const double from = support_m - length_m / 2;
  const double to = support_m + length_m / 2;
  std::vector<Point> points{{from, height_at(messenger, from)}};
  for (const StaticDropper& dropper : report.state.droppers) {
    if (dropper.on_stitch_wire && dropper.at_m > from && dropper.at_m < to) {
      points.push_back({dropper.at_m, height_at(contact, dropper.at_m) + dropper.length_m});
    }
  }
  points.push_back({to, height_at(messenger, to)});
  return points;
}

/// Leaves out what lies beyond what is shown: the end of a stitch wire is cut there.
std::vector<Point> cut(const std::vector<Point>& points, const Shown& shown) {
  std::vector<Point> kept;
  for (const double end : {shown.from_m, shown.to_m}) {
    if (end > points.front().x && end < points.back().x) {
      kept.push_back({end, height_at(points, end)});
    }
  }
  std::ranges::copy_if(points, std::back_inserter(kept),
                       [&](const Point& point) { return shown.holds(point.x); });
  std::ranges::stable_sort(kept, {}, &Point::x);
  return kept;
}

Diagram shape_diagram(const StaticReport& report, const Shown& shown,
                      const std::vector<double>& supports, const std::vector<Point>& contact) {
  Diagram shape;
  const Words& words = report.words;
  shape.heading =
      shown.to_span == shown.from_span + 1
          ? words.say("Span {} of {}: wires and droppers", shown.to_span, report.line.spans.size())
          : words.say("Spans {} to {} of {}: wires and droppers", shown.from_span + 1,
                      shown.to_span, report.line.spans.size());
  shape.y_name = words.say("m above the contact wire at its supports");
  shape.y_units_of_x_unit = 1;
  const std::vector<Point> messenger =
      along(report, shown, [](const StaticPoint& point) { return point.messenger_wire_m; });
  shape.curves = {{messenger, wire}, {contact, wire}};
  for (std::size_t i = shown.from_span; i <= shown.to_span; ++i) {
    const auto& stitch = report.line.supports[i].stitch_wire;
    if (stitch && i > 0 && i < report.line.spans.size()) {
      shape.curves.push_back(
          {cut(stitch_wire(report, supports[i], stitch->length_m, contact, messenger), shown),
           wire});
    }
  }
  for (const StaticDropper& dropper : report.state.droppers) {
    if (shown.holds(dropper.at_m)) {
      const double below = height_at(contact, dropper.at_m);
      const double above =
          dropper.on_stitch_wire ? below + dropper.length_m : height_at(messenger, dropper.at_m);
      shape.curves.push_back({{{dropper.at_m, below}, {dropper.at_m, above}},
                              dropper.force_n > 0 ? Stroke{0.5} : Stroke{0.5, 2}});
    }
  }
  if (std::ranges::any_of(report.state.droppers,
                          [](const StaticDropper& dropper) { return dropper.force_n <= 0; })) {
    shape.y_name += words.say("; broken: slack droppers");
  }
  return shape;
}

Diagram force_diagram(const StaticReport& report, const Shown& shown) {
  Diagram forces;
  forces.heading = report.words.say("Forces in the droppers");
  forces.y_name = "N";
  const double half = (shown.to_m - shown.from_m) / 400;
  for (const StaticDropper& dropper : report.state.droppers) {
    if (shown.holds(dropper.at_m)) {
      forces.bars.push_back({dropper.at_m - half, dropper.at_m + half, dropper.force_n,
                             BarFill::black, fmt::format("{:.0f}", dropper.force_n)});
    }
  }
  return forces;
}

}  // namespace

DiagramSheets statics_sheets(const StaticReport& report) {
  const Words& words = report.words;
  const std::vector<double> supports = support_positions(report.line);
  const Shown shown = shown_of(report, supports);
  const std::vector<Point> contact = contact_wire(report, shown);
  Diagram closer;
  closer.heading = words.say("The contact wire alone");
  closer.y_name = words.say("mm above its supports, as the line is built");
  closer.from_zero = false;
  closer.y_units_of_x_unit = 1000;
  closer.curves.push_back({contact, wire});
  for (Point& point : closer.curves.front().points) {
    point.y *= 1000;
  }
  Diagram elasticity;
  elasticity.heading = words.say("Elasticity of the contact wire");
  elasticity.y_name = words.say("mm lifted per N of a small force");
  elasticity.curves.push_back(
      {along(report, shown, [](const StaticPoint& point) { return point.elasticity_mm_per_n; }),
       wire});
  DiagramSheets sheets;
  sheets.name = "statics";
  sheets.words = words;
  sheets.title = words.say("{}: at rest", report.line.name);
  const std::string weather = weather_words(report.weather, words);
  sheets.subtitle =
      report.line.contact_wires > 1
          ? words.say(
                "{}. Tension {:.0f} N in the contact wires together, {:.0f} N in the "
                "messenger wire.",
                weather, report.state.contact_tension_n, report.state.messenger_tension_n)
          : words.say("{}. Tension {:.0f} N in the contact wire, {:.0f} N in the messenger wire.",
                      weather, report.state.contact_tension_n, report.state.messenger_tension_n);
  sheets.invented = report.line.invented;
  std::vector<PlacedDiagram> sheet;
  constexpr std::array shares{0.31, 0.23, 0.21, 0.25};
  std::array diagrams{shape_diagram(report, shown, supports, contact), closer,
                      force_diagram(report, shown), elasticity};
  double top = 0;
  for (std::size_t row = 0; row < diagrams.size(); ++row) {
    Diagram& diagram = diagrams[row];
    diagram.x_from = shown.from_m;
    diagram.x_to = shown.to_m;
    for (std::size_t i = shown.from_span; i <= shown.to_span; ++i) {
      diagram.supports.push_back(supports[i]);
    }
    if (row + 1 == diagrams.size()) {
      diagram.x_name = words.say("m along the line; strokes: supports");
    }
    sheet.push_back({std::move(diagram), 0, top, 1, shares[row]});
    top += shares[row];
  }
  sheets.sheets.push_back(std::move(sheet));
  return sheets;
}

std::vector<RenderedFile> render_statics(const StaticReport& report) {
  return render_diagram_sheets(statics_sheets(report));
}

}  // namespace panup
