#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/capitals.h"
#include "drawing/diagram_sheets.h"
#include "figures/measured.h"
#include "figures/simulation_diagrams.h"

namespace panup {

namespace {

constexpr Stroke simulated_stroke{0.25};
constexpr Stroke course_stroke{0.5};
constexpr Stroke measured_stroke{1.1};
/// Metres of a comparison across a sheet: so that spans and droppers can be told apart.
constexpr double row_length_m = 300;
constexpr double most_rows_of_comparison = 24;
constexpr double m_per_km = 1000;

/// Where measured and simulated force are drawn one over the other.
struct PlottedStretch {
  double from_km = 0;
  double to_km = 0;
};

/// Curves of a trace by rising chainage, one a piece.
void add_pieces(Diagram& diagram, const ForceTrace& trace, bool falling, Stroke stroke) {
  for (const auto& piece : trace.pieces()) {
    DiagramCurve curve{.points = {}, .stroke = stroke};
    for (const ForceTrace::Point& point : piece) {
      curve.points.push_back({point.chainage_m / m_per_km, point.force_n});
    }
    if (falling) {
      std::ranges::reverse(curve.points);
    }
    diagram.curves.push_back(std::move(curve));
  }
}

void add_losses(Diagram& diagram, const MeasuredPantograph& one, const Words& words) {
  for (const RecordStretch& loss : one.losses) {
    const double from = std::min(loss.from_m, loss.to_m) / m_per_km;
    const double to = std::max(loss.from_m, loss.to_m) / m_per_km;
    if (from <= diagram.x_to && to >= diagram.x_from) {
      diagram.stretches.push_back({std::max(from, diagram.x_from), std::min(to, diagram.x_to)});
    }
  }
  if (!diagram.stretches.empty()) {
    diagram.y_name += words.say("; black along the top: contact loss as recorded");
  }
}

void add_supports(Diagram& diagram, const MeasuredRecord& record, const Words& words) {
  for (const TensionLength& length : record.tension_lengths) {
    for (const double at_m : length.supports_m) {
      if (at_m / m_per_km >= diagram.x_from && at_m / m_per_km <= diagram.x_to) {
        diagram.supports.push_back(at_m / m_per_km);
      }
    }
  }
  if (!diagram.supports.empty()) {
    diagram.x_name = words.say("km; strokes: supports");
  }
}

/// At the head of a diagram.
std::string headed(const MeasuredReport& report, const MeasuredRun& run,
                   const MeasuredPantograph& one) {
  return report.words.say("Run {}, pantograph {}", report.record.runs[run.run].id,
                          report.record.pantographs[one.pantograph].id);
}

Diagram course_diagram(const MeasuredReport& report, const MeasuredRun& run,
                       const MeasuredPantograph& one) {
  const Words& words = report.words;
  const MeasuredFigures& whole = one.whole;
  Diagram diagram;
  diagram.heading =
      words.say_of(static_cast<std::size_t>(one.steps.gaps),
                   "{}: mean {:.1f} N, σ {:.1f} N, contact loss {:.2f} % of the time; {} gap",
                   "{}: mean {:.1f} N, σ {:.1f} N, contact loss {:.2f} % of the time; {} gaps",
                   headed(report, run, one), whole.mean_n, whole.std_n, whole.contact_loss_percent,
                   one.steps.gaps);
  diagram.x_name = words.say("km");
  diagram.y_name = words.say("measured contact force, N; low-pass filtered at {:g} Hz",
                             evaluated_low_pass_hz(report.record));
  diagram.x_from = whole.from_m / m_per_km;
  diagram.x_to = std::max(whole.to_m / m_per_km, diagram.x_from + 1e-6);
  add_pieces(diagram, one.trace, run.falling, course_stroke);
  add_losses(diagram, one, words);
  add_supports(diagram, report.record, words);
  diagram.levels =
      force_levels(whole.statistical_max_n(), whole.mean_n, whole.statistical_min_n(), words);
  return diagram;
}

Diagram stretch_diagram(const MeasuredReport& report, std::size_t run, std::size_t pantograph) {
  const Words& words = report.words;
  const MeasuredPantograph& one = report.runs[run].pantographs[pantograph];
  const std::string which = headed(report, report.runs[run], one);
  Diagram diagram;
  diagram.heading = report.record.tension_lengths.empty()
                        ? words.say("{}: standard deviation by kilometre", which)
                        : words.say("{}: standard deviation by tension length", which);
  diagram.x_name = words.say("km");
  diagram.y_name = words.say("σ, N; black: criteria not met, hatched: met, open: not asked");
  diagram.x_from = one.stretches.front().from_m / m_per_km;
  diagram.x_to = one.stretches.back().to_m / m_per_km;
  for (const JudgedStretch& judged : report.judged.stretches) {
    if (judged.run != run || judged.pantograph != pantograph || !judged.stretch) {
      continue;
    }
    const StretchFigures& stretch = one.stretches[*judged.stretch];
    const bool asked = judged.judgement && !judged.judgement->criteria.empty();
    diagram.bars.push_back({stretch.from_m / m_per_km, stretch.to_m / m_per_km,
                            stretch.figures.std_n,
                            !asked                     ? BarFill::open
                            : judged.judgement->passes ? BarFill::hatched
                                                       : BarFill::black,
                            fmt::format("{:.0f}", stretch.figures.std_n)});
  }
  return diagram;
}

/// The simulated force by rising chainage.
DiagramCurve simulated_curve(const MeasuredReport& report, const ComparedRun& compared,
                             std::size_t simulated) {
  const MeasuredRun& run = report.runs[compared.run];
  const Trace::OfPantograph& trace = compared.result->trace->pantographs[simulated];
  DiagramCurve curve{.points = {}, .stroke = simulated_stroke};
  for (std::size_t i = 0; i < trace.at_m.size(); ++i) {
    curve.points.push_back(
        {chainage_on(report.record, compared.line, run.falling, trace.at_m[i]) / m_per_km,
         trace.filtered_force_n[i]});
  }
  if (run.falling) {
    std::ranges::reverse(curve.points);
  }
  return curve;
}

void add_droppers(Diagram& diagram, const MeasuredReport& report, const ComparedRun& compared) {
  const bool falling = report.runs[compared.run].falling;
  const std::vector<double> supports = support_positions(compared.line);
  const auto mark = [&](std::vector<double>& marks, double at_m) {
    const double at = chainage_on(report.record, compared.line, falling, at_m) / m_per_km;
    if (at >= diagram.x_from && at <= diagram.x_to) {
      marks.push_back(at);
    }
  };
  for (std::size_t i = 0; i < supports.size(); ++i) {
    mark(diagram.supports, supports[i]);
    if (i < compared.line.spans.size()) {
      for (const Dropper& dropper : compared.line.spans[i].droppers) {
        mark(diagram.droppers, supports[i] + dropper.at_m);
      }
    }
  }
}

Diagram compared_diagram(const MeasuredReport& report, const ComparedRun& compared,
                         const ComparedPantograph& one, PlottedStretch stretch) {
  const MeasuredRun& run = report.runs[compared.run];
  const Words& words = report.words;
  const MeasuredPantograph& measured = run.pantographs[one.measured];
  Diagram diagram;
  diagram.heading =
      words.say("{}, at {:g} km/h: σ measured {:.1f} N, simulated {:.1f} N: {} by {:.0f} %, {}",
                headed(report, run, measured), compared.result->speed_kmh, measured.compared.std_n,
                compared.result->pantographs[one.simulated].std_n,
                one.std_difference < 0 ? words.say("less") : words.say("greater"),
                100 * std::abs(one.std_difference),
                one.valid ? words.say("counts as valid") : words.say("does NOT count as valid"));
  diagram.x_name = words.say("km; long strokes: supports, short ones: droppers");
  diagram.y_name = words.say(
      "contact force filtered at {:g} Hz, N; thick: measured, thin: "
      "simulated",
      evaluated_low_pass_hz(report.record));
  diagram.x_from = stretch.from_km;
  diagram.x_to = stretch.to_km;
  diagram.from_zero = false;
  add_pieces(diagram, measured.compared_trace, run.falling, measured_stroke);
  diagram.curves.push_back(simulated_curve(report, compared, one.simulated));
  add_losses(diagram, measured, words);
  add_droppers(diagram, report, compared);
  return diagram;
}

/// The stretch of a comparison in parts that are drawn one below the other.
std::vector<PlottedStretch> plotted_stretches(const MeasuredFigures& compared) {
  const double length = std::max(compared.to_m - compared.from_m, 1.0);
  const double rows = std::clamp(std::ceil(length / row_length_m), 1.0, most_rows_of_comparison);
  std::vector<PlottedStretch> stretches;
  for (int i = 0; i < static_cast<int>(rows); ++i) {
    stretches.push_back({(compared.from_m + length * i / rows) / m_per_km,
                         (compared.from_m + length * (i + 1) / rows) / m_per_km});
  }
  return stretches;
}

}  // namespace

std::vector<RenderedFile> render_measured(const MeasuredReport& report) {
  DiagramSheets sheets;
  sheets.name = "measured";
  const Words& words = report.words;
  sheets.words = words;
  sheets.title = words.say("{}: measured contact force", report.record.name);
  sheets.subtitle =
      capitalised(filter_words(report.record, words)) + "." +
      (report.line ? words.say(" Contact line: {}.", report.line->name) : std::string());
  sheets.invented = invented(report);
  std::vector<Diagram> courses;
  std::vector<Diagram> stretches;
  for (std::size_t i = 0; i < report.runs.size(); ++i) {
    for (std::size_t k = 0; k < report.runs[i].pantographs.size(); ++k) {
      courses.push_back(course_diagram(report, report.runs[i], report.runs[i].pantographs[k]));
      if (report.runs[i].pantographs[k].stretches.size() > 1) {
        stretches.push_back(stretch_diagram(report, i, k));
      }
    }
  }
  std::vector<Diagram> comparisons;
  for (const ComparedRun& compared : report.compared) {
    // A line that lies nowhere has no place to be drawn over.
    if (!compared.result || !report.record.contact_line_at_m) {
      continue;
    }
    for (const ComparedPantograph& one : compared.compared) {
      const MeasuredPantograph& measured = report.runs[compared.run].pantographs[one.measured];
      for (const PlottedStretch& stretch : plotted_stretches(measured.compared)) {
        comparisons.push_back(compared_diagram(report, compared, one, stretch));
      }
    }
  }
  add_rows(sheets, courses);
  add_rows(sheets, stretches);
  add_rows(sheets, comparisons);
  return render_diagram_sheets(sheets);
}

}  // namespace panup
