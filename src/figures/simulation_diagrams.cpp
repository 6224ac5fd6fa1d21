#include "figures/simulation_diagrams.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/handed_out.h"
#include "figures/permitted_words.h"

namespace panup {

namespace {

constexpr Stroke thin{0.25};
constexpr Stroke thick{0.9};

std::vector<Point> points_of(const std::vector<double>& x, const std::vector<double>& y,
                             double factor) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < x.size(); ++i) {
    points.push_back({x[i], factor * y[i]});
  }
  return points;
}

/// Stretches without contact, as the unfiltered force tells.
std::vector<DiagramStretch> contact_losses(const Trace::OfPantograph& trace) {
  std::vector<DiagramStretch> losses;
  bool lost = false;
  for (std::size_t i = 0; i < trace.at_m.size(); ++i) {
    const bool loses = trace.contact_force_n[i] <= 0;
    if (loses && !lost) {
      losses.push_back({trace.at_m[i], trace.at_m[i]});
    }
    if (loses) {
      losses.back().to = trace.at_m[i];
    }
    lost = loses;
  }
  return losses;
}

Diagram over_line(const SimulationReport& report) {
  Diagram diagram;
  diagram.x_name =
      report.words.say("m along the line; long strokes: supports, short ones: droppers");
  diagram.x_from = report.result.from_m;
  diagram.x_to = report.result.to_m;
  const std::vector<double> supports = support_positions(report.line);
  const auto mark = [&](std::vector<double>& marks, double at) {
    if (lies_in(at, diagram.x_from, diagram.x_to)) {
      marks.push_back(std::clamp(at, diagram.x_from, diagram.x_to));
    }
  };
  for (std::size_t span = 0; span < supports.size(); ++span) {
    mark(diagram.supports, supports[span]);
    if (span < report.line.spans.size()) {
      for (const Dropper& dropper : report.line.spans[span].droppers) {
        mark(diagram.droppers, supports[span] + dropper.at_m);
      }
    }
  }
  return diagram;
}

std::string which(const SimulationReport& report, std::size_t i) {
  const Words& words = report.words;
  return i == 0 ? words.say("Pantograph {}, in front", i + 1)
                : words.say("Pantograph {}, {:g} m behind the first", i + 1,
                            report.pantographs[i].behind_first_m);
}

Diagram force_diagram(const SimulationReport& report, std::size_t i) {
  const Words& words = report.words;
  const PantographRun& run = report.result.pantographs[i];
  const Trace::OfPantograph& trace = report.result.trace->pantographs[i];
  Diagram diagram = over_line(report);
  diagram.heading = words.say("{}: mean {:.1f} N, σ {:.1f} N, contact loss {:.2f} % of the time",
                              which(report, i), run.mean_n, run.std_n, run.contact_loss_percent);
  diagram.y_name = words.say("contact force, N; thick: filtered at 20 Hz, thin: unfiltered");
  diagram.stretches = contact_losses(trace);
  if (!diagram.stretches.empty()) {
    diagram.y_name += words.say("; black along the top: contact loss");
  }
  diagram.curves.push_back({points_of(trace.at_m, trace.contact_force_n, 1), thin});
  diagram.curves.push_back({points_of(trace.at_m, trace.filtered_force_n, 1), thick});
  diagram.levels = force_levels(run.statistical_max_n, run.mean_n, run.statistical_min_n, words);
  return diagram;
}

Diagram uplift_diagram(const SimulationReport& report) {
  Diagram diagram = over_line(report);
  diagram.heading =
      report.words.say("Greatest uplift: {:.1f} mm at supports, {:.1f} mm within spans",
                       report.result.max_support_uplift_mm, report.result.max_span_uplift_mm);
  diagram.y_name = report.words.say(
      "uplift, mm; black: at a support, hatched: where it is greatest within a span");
  diagram.supports.clear();
  diagram.droppers.clear();
  diagram.x_name.clear();
  const double half = std::min((diagram.x_to - diagram.x_from) / 200, 3.0);
  const auto add = [&](double at_m, double uplift_mm, BarFill fill) {
    diagram.bars.push_back({std::max(diagram.x_from, at_m - half),
                            std::min(diagram.x_to, at_m + half), uplift_mm, fill,
                            fmt::format("{:.0f}", uplift_mm)});
  };
  for (const SpanUplift& span : report.result.span_uplifts) {
    add(span.at_m, span.uplift_mm, BarFill::hatched);
  }
  for (const SupportUplift& support : report.result.support_uplifts) {
    add(support.at_m, support.uplift_mm, BarFill::black);
  }
  return diagram;
}

Diagram height_diagram(const SimulationReport& report, std::size_t i) {
  const Trace::OfPantograph& trace = report.result.trace->pantographs[i];
  Diagram diagram = over_line(report);
  diagram.heading = report.words.say("{}: heights as it passes", which(report, i));
  diagram.y_name = report.words.say(
      "mm above the contact wire at its supports at rest; thick: contact wire, thin: collector "
      "head");
  diagram.from_zero = false;
  diagram.curves.push_back({points_of(trace.at_m, trace.head_height_m, 1000), thin});
  diagram.curves.push_back({points_of(trace.at_m, trace.wire_height_m, 1000), thick});
  return diagram;
}

/// All over one range, so that pantographs can be compared.
Diagram histogram_diagram(const SimulationReport& report, std::size_t i) {
  const PantographRun& run = report.result.pantographs[i];
  Diagram diagram;
  diagram.heading = which(report, i);
  diagram.y_name = report.words.say("% of the time; upright lines: mean, and dashed mean ± 3σ");
  diagram.x_name = report.words.say("contact force filtered at 20 Hz, N");
  diagram.x_from = run.statistical_min_n;
  diagram.x_to = run.statistical_max_n;
  for (const PantographRun& other : report.result.pantographs) {
    const Histogram& bars = other.histogram;
    const double end = bars.from_n + bars.bar_n * static_cast<double>(bars.counts.size());
    diagram.x_from = std::min({diagram.x_from, bars.from_n, other.statistical_min_n});
    diagram.x_to = std::max({diagram.x_to, end, other.statistical_max_n});
  }
  diagram.x_from = 10 * std::floor(diagram.x_from / 10);
  diagram.x_to = 10 * std::ceil(diagram.x_to / 10);
  double all = 0;
  for (const int count : run.histogram.counts) {
    all += count;
  }
  for (std::size_t k = 0; k < run.histogram.counts.size(); ++k) {
    const double from = run.histogram.from_n + run.histogram.bar_n * static_cast<double>(k);
    diagram.bars.push_back({from,
                            from + run.histogram.bar_n,
                            all > 0 ? 100 * run.histogram.counts[k] / all : 0,
                            BarFill::hatched,
                            {}});
  }
  diagram.uprights = {
      {run.mean_n, false}, {run.statistical_min_n, true}, {run.statistical_max_n, true}};
  return diagram;
}

std::string subtitle(const SimulationReport& report) {
  const Words& words = report.words;
  std::string text;
  for (std::size_t i = 0; i < report.pantographs.size(); ++i) {
    const RunningPantograph& one = report.pantographs[i];
    text += (i > 0 ? "; " : "") + words.say("{}: {}, static force {:g} N, knuckle {}", i + 1,
                                            one.model.name, one.static_force_n,
                                            knuckle_word(one.knuckle, words));
  }
  return text + ". " + weather_words(report.weather, words) + ".";
}

void add_histograms(DiagramSheets& sheets, const SimulationReport& report) {
  const std::size_t count = report.pantographs.size();
  const std::size_t across = std::min(std::size_t{2}, count);
  const std::size_t rows = (count + across - 1) / across;
  const double width = 1 / static_cast<double>(across);
  const double height = 1 / static_cast<double>(rows);
  std::vector<PlacedDiagram> sheet;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t row = i / across;
    const std::size_t column = i % across;
    sheet.push_back({histogram_diagram(report, i), width * static_cast<double>(column),
                     height * static_cast<double>(row), width, height});
  }
  sheets.sheets.push_back(std::move(sheet));
}

}  // namespace

std::vector<DiagramLevel> force_levels(double most_n, double mean_n, double least_n,
                                       const Words& words) {
  const auto newtons = [&words](double force_n) {
    return words.say("{}{:.0f} N", force_n <= -0.5 ? "−" : "", std::abs(force_n));
  };
  return {{most_n, words.say("mean + 3σ {}", newtons(most_n))},
          {mean_n, words.say("mean {}", newtons(mean_n))},
          {least_n, words.say("mean − 3σ {}", newtons(least_n))}};
}

DiagramSheets simulation_sheets(const SimulationReport& report) {
  DiagramSheets sheets;
  sheets.name = "simulation";
  sheets.words = report.words;
  sheets.title = sheets.words.say_of(report.pantographs.size(), "{}: {} pantograph at {:g} km/h",
                                     "{}: {} pantographs at {:g} km/h", report.line.name,
                                     report.pantographs.size(), report.result.speed_kmh);
  sheets.subtitle = subtitle(report);
  sheets.invented = invented(report);
  std::vector<Diagram> forces;
  std::vector<Diagram> heights{uplift_diagram(report)};
  for (std::size_t i = 0; i < report.pantographs.size(); ++i) {
    forces.push_back(force_diagram(report, i));
    heights.push_back(height_diagram(report, i));
  }
  add_rows(sheets, forces);
  add_rows(sheets, heights);
  add_histograms(sheets, report);
  return sheets;
}

std::vector<RenderedFile> render_simulation(const SimulationReport& report) {
  return render_diagram_sheets(simulation_sheets(report));
}

}  // namespace panup
