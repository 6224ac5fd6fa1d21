#include "render/simulation_diagrams.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

namespace {

constexpr Stroke thin{0.25};
constexpr Stroke thick{0.9};
constexpr std::size_t forces_on_a_sheet = 3;
constexpr std::size_t histograms_in_a_row = 4;

std::vector<Point> points_of(const std::vector<double>& x, const std::vector<double>& y,
                             double factor) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < x.size(); ++i) {
    points.push_back({x[i], factor * y[i]});
  }
  return points;
}

/// Supports and droppers between two chainages.
void mark_line(Diagram& diagram, const ContactLine& line) {
  const auto within = [&](double at) {
    return at >= diagram.x_from - 1e-6 && at <= diagram.x_to + 1e-6;
  };
  const std::vector<double> supports = support_positions(line);
  std::ranges::copy_if(supports, std::back_inserter(diagram.supports), within);
  for (std::size_t span = 0; span < line.spans.size(); ++span) {
    for (const Dropper& dropper : line.spans[span].droppers) {
      if (within(supports[span] + dropper.at_m)) {
        diagram.droppers.push_back(supports[span] + dropper.at_m);
      }
    }
  }
}

Diagram over_line(const SimulationReport& report) {
  Diagram diagram;
  diagram.x_name = "m along the line; long strokes: supports, short ones: droppers";
  diagram.x_from = report.result.from_m;
  diagram.x_to = report.result.to_m;
  mark_line(diagram, report.line);
  return diagram;
}

Diagram force_diagram(const SimulationReport& report, std::size_t i) {
  const PantographRun& run = report.result.pantographs[i];
  const Trace::OfPantograph& trace = report.result.trace->pantographs[i];
  Diagram diagram = over_line(report);
  diagram.heading = fmt::format(
      "Pantograph {}{}: {:.1f} N ± {:.1f} N, contact loss {:.2f} %", i + 1,
      i == 0 ? std::string(", in front") : fmt::format(", {:g} m behind the first", run.position_m),
      run.mean_n, run.std_n, run.contact_loss_percent);
  diagram.y_name = "contact force, N; thick: below 20 Hz, thin: unfiltered";
  diagram.curves.push_back({points_of(trace.at_m, trace.contact_force_n, 1), thin});
  diagram.curves.push_back({points_of(trace.at_m, trace.filtered_force_n, 1), thick});
  diagram.levels = {
      {run.statistical_max_n, fmt::format("mean + 3σ {:.0f}", run.statistical_max_n)},
      {run.mean_n, fmt::format("mean {:.0f}", run.mean_n)},
      {run.statistical_min_n, fmt::format("mean − 3σ {:.0f}", run.statistical_min_n)}};
  return diagram;
}

Diagram uplift_diagram(const SimulationReport& report) {
  Diagram diagram = over_line(report);
  diagram.heading =
      fmt::format("Greatest uplift: {:.1f} mm at supports, {:.1f} mm in spans",
                  report.result.max_support_uplift_mm, report.result.max_span_uplift_mm);
  diagram.y_name = "uplift, mm; black: at the support, hatched: in the span, where it is greatest";
  const double width = (diagram.x_to - diagram.x_from) / 200;
  for (const SpanUplift& span : report.result.span_uplifts) {
    diagram.bars.push_back({span.at_m - width, span.at_m + width, span.uplift_mm, false});
  }
  for (const SupportUplift& support : report.result.support_uplifts) {
    diagram.bars.push_back({std::max(diagram.x_from, support.at_m - width),
                            std::min(diagram.x_to, support.at_m + width), support.uplift_mm, true});
  }
  diagram.supports.clear();
  diagram.droppers.clear();
  diagram.x_name = "m along the line";
  return diagram;
}

Diagram height_diagram(const SimulationReport& report) {
  Diagram diagram = over_line(report);
  diagram.heading = "Height of the contact wire where a pantograph presses it";
  diagram.y_name =
      report.result.pantographs.size() == 1
          ? "mm above its supports at rest"
          : "mm above its supports at rest; thick: the first pantograph, thin: the others";
  diagram.from_zero = false;
  for (std::size_t i = report.result.trace->pantographs.size(); i > 0; --i) {
    const Trace::OfPantograph& trace = report.result.trace->pantographs[i - 1];
    diagram.curves.push_back(
        {points_of(trace.at_m, trace.wire_height_m, 1000), i == 1 ? thick : thin});
  }
  return diagram;
}

Diagram histogram_diagram(const PantographRun& run, std::size_t i) {
  Diagram diagram;
  diagram.heading = fmt::format("Pantograph {}", i + 1);
  diagram.y_name = "% of the time";
  diagram.x_name = "contact force below 20 Hz, N";
  const Histogram& bars = run.histogram;
  double all = 0;
  for (const int count : bars.counts) {
    all += count;
  }
  diagram.x_from = bars.from_n;
  diagram.x_to = bars.from_n + bars.bar_n * static_cast<double>(bars.counts.size());
  for (std::size_t k = 0; k < bars.counts.size(); ++k) {
    const double from = bars.from_n + bars.bar_n * static_cast<double>(k);
    diagram.bars.push_back(
        {from + 0.05 * bars.bar_n, from + 0.95 * bars.bar_n, 100 * bars.counts[k] / all, true});
  }
  return diagram;
}

std::string line_words(const ContactLine& line) { return line.name.empty() ? line.id : line.name; }

}  // namespace

DiagramSheets simulation_sheets(const SimulationReport& report) {
  const SimulationResult& result = report.result;
  const std::size_t count = result.pantographs.size();
  DiagramSheets sheets;
  sheets.name = "simulation";
  sheets.title = fmt::format("{}, {:g} km/h", line_words(report.line), result.speed_kmh);
  for (std::size_t i = 0; i < count; ++i) {
    const RunningPantograph& one = report.pantographs[i];
    sheets.subtitle +=
        fmt::format("{}{} {}, {:g} N at rest, knuckle {}", i > 0 ? "; " : "", i + 1, one.model.name,
                    one.static_force_n, one.knuckle == Knuckle::leading ? "leading" : "trailing");
    sheets.invented = sheets.invented || one.model.invented;
  }
  sheets.invented = sheets.invented || report.line.invented;
  for (std::size_t first = 0; first < count; first += forces_on_a_sheet) {
    const std::size_t here = std::min(forces_on_a_sheet, count - first);
    const double height = 1 / static_cast<double>(here);
    std::vector<PlacedDiagram> sheet;
    for (std::size_t i = 0; i < here; ++i) {
      sheet.push_back(
          {force_diagram(report, first + i), 0, height * static_cast<double>(i), 1, height});
    }
    sheets.sheets.push_back(std::move(sheet));
  }
  sheets.sheets.push_back(
      {{uplift_diagram(report), 0, 0, 1, 0.5}, {height_diagram(report), 0, 0.5, 1, 0.5}});
  const std::size_t across = std::min(histograms_in_a_row, count);
  const std::size_t rows = (count + across - 1) / across;
  std::vector<PlacedDiagram> last;
  for (std::size_t i = 0; i < count; ++i) {
    const double width = 1 / static_cast<double>(across);
    const double height = 1 / static_cast<double>(rows);
    last.push_back({histogram_diagram(result.pantographs[i], i),
                    width * static_cast<double>(i % across),
                    height * static_cast<double>(i / across), width, height});
  }
  sheets.sheets.push_back(std::move(last));
  return sheets;
}

DiagramSheets statics_sheets(const StaticReport& report) {
  const std::vector<double> supports = support_positions(report.line);
  const std::size_t span = report.line.spans.size() / 2;
  const double from = supports[span];
  const double to = supports[span + 1];
  const auto within = [&](double at) { return at >= from - 1e-6 && at <= to + 1e-6; };
  Diagram shape;
  shape.heading =
      fmt::format("Span {} of {}: wires and droppers", span + 1, report.line.spans.size());
  shape.y_name = "m above the contact wire at its supports; heights are drawn larger than lengths";
  Diagram forces;
  forces.heading = "Dropper forces";
  forces.y_name = "N";
  Diagram elasticity;
  elasticity.heading = "Elasticity";
  elasticity.y_name = "mm lifted per N";
  Diagram contact;
  contact.heading = "Contact wire";
  contact.y_name = "mm above its supports in the state it is built for";
  contact.from_zero = false;
  DiagramCurve messenger{{}, thick};
  DiagramCurve low{{}, thick};
  DiagramCurve closer{{}, thick};
  DiagramCurve soft{{}, thick};
  for (const StaticPoint& point : report.state.points) {
    if (within(point.at_m)) {
      const double x = point.at_m - from;
      messenger.points.push_back({x, point.messenger_wire_m});
      low.points.push_back({x, point.contact_wire_m});
      closer.points.push_back({x, 1000 * point.contact_wire_m});
      soft.points.push_back({x, point.elasticity_mm_per_n});
    }
  }
  shape.curves = {messenger, low};
  contact.curves = {closer};
  elasticity.curves = {soft};
  const auto height_at = [&](const std::vector<Point>& points, double x) {
    const auto after = std::ranges::lower_bound(points, x, {}, &Point::x);
    if (after == points.begin() || after == points.end()) {
      return after == points.end() ? points.back().y : after->y;
    }
    const Point& a = *(after - 1);
    const Point& b = *after;
    return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
  };
  const double width = (to - from) / 160;
  for (const StaticDropper& dropper : report.state.droppers) {
    if (within(dropper.at_m)) {
      const double x = dropper.at_m - from;
      const double below = height_at(low.points, x);
      const double above =
          dropper.on_stitch_wire ? below + dropper.length_m : height_at(messenger.points, x);
      shape.curves.push_back(
          {{{x, below}, {x, above}}, dropper.force_n > 0 ? Stroke{0.6} : Stroke{0.6, 2}});
      forces.bars.push_back({x - width, x + width, dropper.force_n, true});
    }
  }
  DiagramSheets sheets;
  sheets.name = "statics";
  sheets.title = line_words(report.line) + ", at rest";
  sheets.subtitle = fmt::format(
      "{:g} °C; ice {:g} kg/m on each contact wire, {:g} kg/m on the messenger wire; contact wire "
      "{:.0f} N, messenger wire {:.0f} N",
      report.weather.temperature_c, report.weather.ice_on_contact_wire_kg_per_m,
      report.weather.ice_on_messenger_wire_kg_per_m, report.state.contact_tension_n,
      report.state.messenger_tension_n);
  sheets.invented = report.line.invented;
  std::vector<PlacedDiagram> sheet;
  int row = 0;
  for (Diagram* diagram : {&shape, &contact, &forces, &elasticity}) {
    diagram->x_name = "m from the support";
    diagram->x_from = 0;
    diagram->x_to = to - from;
    const double height = 0.25;
    sheet.push_back({*diagram, 0, height * row, 1, height});
    ++row;
  }
  sheets.sheets.push_back(std::move(sheet));
  return sheets;
}

std::vector<RenderedFile> render_simulation(const SimulationReport& report) {
  return render_diagram_sheets(simulation_sheets(report));
}

std::vector<RenderedFile> render_statics(const StaticReport& report) {
  return render_diagram_sheets(statics_sheets(report));
}

}  // namespace panup
