/// The envelope as a picture: distance across, speed up.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/handed_out.h"
#include "drawing/diagram_axis.h"
#include "drawing/diagram_sheets.h"
#include "drawing/sheets.h"
#include "drawing/text_style.h"
#include "figures/envelope.h"
#include "figures/envelope_plot.h"
#include "figures/simulation.h"

namespace panup {

namespace {

constexpr double margin = 34;
constexpr double gap = 10;
constexpr double pixels_per_point = 2;
constexpr double y_labels_width = 40;
constexpr double legend_width = 154;
constexpr double tick_length = 3;
constexpr double tick_labels_height = 14;
constexpr double axis_name_height = 14;
constexpr double between_x_labels = 36;
constexpr double between_y_labels = 18;
constexpr Stroke axis_stroke{0.7};
constexpr TextStyle title_style{.size_pt = 13, .weight = FontWeight::bold};
constexpr double page_width = a4_landscape.width - 2 * margin;
/// What notes may take of the sheet; they stand in full in the text.
constexpr double most_for_notes = 170;

/// The bottom of the head.
double draw_head(Canvas& canvas, const TextSetter& setter, const Envelope& envelope) {
  const Words& words = setter.words();
  double taken = 0;
  if (envelope.invented) {
    const Text corner = setter.set(invented_words(words), small_bold);
    canvas.text(corner, {margin + page_width - corner.width(), margin - 8});
    taken = corner.width() + 2 * gap;
  }
  const Text title =
      setter.set(words.say("Permitted speed by the mechanics: {}", fitted(envelope.line_name)),
                 title_style, page_width - taken);
  canvas.text(title, {margin, margin - 12});
  const double subtitle_top = margin - 12 + title.height() + 2;
  const Text subtitle = setter.set(
      words.say(
          "{}; {}; static force {:g} N; wave speed {:.0f} km/h; {}",
          fitted(raised_words(envelope, words)),
          envelope.supply ? words.named(name_of(*envelope.supply)) : words.say("supply not stated"),
          envelope.static_force_n, envelope.wave_speed_kmh, weather_words(envelope.weather, words)),
      small, page_width);
  canvas.text(subtitle, {margin, subtitle_top});
  return subtitle_top + subtitle.height() + gap;
}

/// Notes as one text, each of them shortened where they would take too much of the sheet.
Text notes_on_sheet(const TextSetter& setter, const Envelope& envelope) {
  Text text;
  for (const std::size_t longest : {longest_text, std::size_t{320}, std::size_t{160}}) {
    std::vector<std::string> notes = notes_of(envelope, setter.words());
    for (std::string& note : notes) {
      note = fitted(note, longest);
    }
    text = setter.set(fmt::format("{}", fmt::join(notes, " ")), small, page_width);
    if (text.height() <= most_for_notes) {
      break;
    }
  }
  return text;
}

/// The top of what stands at the foot.
double draw_foot(Canvas& canvas, const TextSetter& setter, const Envelope& envelope) {
  const Text foot =
      setter.set(fmt::format("{}", fmt::join(cautions("result", setter.words()), " ")), small_bold,
                 page_width);
  const Text notes = notes_on_sheet(setter, envelope);
  const double bottom = a4_landscape.height - margin + 10;
  canvas.text(foot, {margin, bottom - foot.height()});
  const double top = bottom - foot.height() - notes.height() - 3;
  canvas.line({margin, top - 4}, {margin + page_width, top - 4}, {0.5});
  canvas.text(notes, {margin, top});
  return top - 4;
}

/// Decimals that write all values in full, up to two; nothing where that is not enough.
std::optional<int> decimals_of(const std::vector<double>& values) {
  constexpr double rounding = 1e-6;
  double factor = 1;
  for (int decimals = 0; decimals <= 2; ++decimals, factor *= 10) {
    if (std::ranges::all_of(values, [&](double value) {
          return std::abs(factor * value - std::round(factor * value)) < rounding;
        })) {
      return decimals;
    }
  }
  return std::nullopt;
}

/// Ticks at the very values asked for, if they can be written `least_apart`; else round ones.
Axis axis_of(const std::vector<double>& values, const Scale& scale, double least_apart) {
  const double length = std::abs(scale.at_to - scale.at_from);
  const std::optional<int> decimals = decimals_of(values);
  bool fit = decimals.has_value();
  for (std::size_t i = 1; i < values.size(); ++i) {
    fit = fit && std::abs(scale(values[i]) - scale(values[i - 1])) >= least_apart;
  }
  return fit ? Axis{scale.from, scale.to, values, *decimals}
             : axis_within(scale.from, scale.to, static_cast<int>(length / least_apart));
}

void draw_axes(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
               const EnvelopePlot& plot) {
  const Box& area = plot.area;
  if (envelope.count > 1) {
    const Axis across = axis_of(envelope.spacings_m, plot.x, between_x_labels);
    for (const double tick : across.ticks) {
      const double at = plot.x(tick);
      canvas.line({at, area.bottom()}, {at, area.bottom() + tick_length}, axis_stroke);
      const Text label = setter.set(tick_words(across, tick, setter.words()), small);
      canvas.text(label, {at - label.width() / 2, area.bottom() + tick_length + 1});
    }
    const Text name =
        setter.set(setter.words().say("distance between raised pantographs, m"), small);
    canvas.text(name, {area.right() - name.width(), area.bottom() + tick_labels_height + 2});
  }
  const Axis up = axis_of(envelope.speeds_kmh, plot.y, between_y_labels);
  for (const double tick : up.ticks) {
    const double at = plot.y(tick);
    canvas.line({area.x - tick_length, at}, {area.x, at}, axis_stroke);
    const Text label = setter.set(tick_words(up, tick, setter.words()), small);
    canvas.text(label, {area.x - tick_length - 3 - label.width(), at - label.height() / 2});
  }
  canvas.text(setter.set(setter.words().say("speed, km/h"), small), {margin, area.y - 2 * gap});
  canvas.frame(area, axis_stroke);
}

}  // namespace

void draw_envelope(Canvas& canvas, const TextSetter& setter, const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const double top = draw_head(canvas, setter, envelope) + 2 * gap;
  const double bottom = draw_foot(canvas, setter, envelope) - gap;
  const double axis_height = envelope.count > 1 ? tick_labels_height + axis_name_height : gap;
  const double rows_top = bottom - figure_rows_height;
  const Box area{margin + y_labels_width, top,
                 page_width - y_labels_width - curve_names_width - legend_width,
                 rows_top - axis_height - gap / 2 - top};
  const EnvelopePlot plot = plot_of(envelope, area);
  draw_envelope_cells(canvas, envelope, plot);
  draw_axes(canvas, setter, envelope, plot);
  draw_envelope_curves(canvas, setter, envelope, plot);
  draw_figure_rows(canvas, setter, envelope, plot, {margin, rows_top});
  draw_envelope_legend(canvas, setter, envelope, {margin + page_width - legend_width + gap, top});
}

std::string envelope_to_svg(const EnvelopeReport& report) {
  const TextSetter setter(report.words);
  return sheet_to_svg(a4_landscape, 0,
                      [&](Canvas& canvas, std::size_t) { draw_envelope(canvas, setter, report); });
}

std::vector<RenderedFile> render_envelope(const EnvelopeReport& report) {
  const TextSetter setter(report.words);
  const DrawSheet draw = [&](Canvas& canvas, std::size_t) {
    draw_envelope(canvas, setter, report);
  };
  const std::string title =
      report.words.say("Permitted speed by the mechanics: {}", report.envelope.line_name);
  return {{"envelope.pdf", sheets_to_pdf(a4_landscape, 1, title, draw)},
          {"envelope-1.svg", sheet_to_svg(a4_landscape, 0, draw)},
          {"envelope-1.png", sheet_to_png(a4_landscape, 0, pixels_per_point, draw)}};
}

}  // namespace panup
