/// The envelope as a picture: distance across, speed up.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "plan/make_plan.h"
#include "render/card_style.h"
#include "render/diagram_axis.h"
#include "render/diagram_sheets.h"
#include "render/envelope.h"
#include "render/sheets.h"
#include "render/wording.h"

namespace panup {

namespace {

constexpr double margin = 34;
constexpr double gap = 10;
constexpr double pixels_per_point = 2;
constexpr double y_labels_width = 40;
constexpr double line_names_width = 96;
constexpr double legend_width = 150;
constexpr double tick_length = 3;
constexpr double leader = 8;
constexpr Stroke axis_stroke{0.7};
constexpr Stroke permitted_stroke{2.2};
constexpr TextStyle title_style{.size_pt = 13, .weight = FontWeight::bold};

/// How margins are told apart: darker is worse, and what fails is hatched as well.
struct MarginClass {
  double from = 0;
  double level = 1;
  std::string_view words;
};
constexpr std::array classes{MarginClass{0.25, 1.0, "passes, margin 25 % or more"},
                             MarginClass{0.10, 0.88, "passes, margin 10 to 25 %"},
                             MarginClass{0.0, 0.74, "passes, margin below 10 %"}};
constexpr double failing_level = 0.5;
constexpr Stroke failing_hatch{0.5};
constexpr double failing_hatch_gap = 4;

struct CriterionMark {
  RuleKind kind{};
  std::string_view letter;
  std::string_view words;
};
constexpr std::array marks{
    CriterionMark{RuleKind::mean_contact_force, "M", "mean contact force"},
    CriterionMark{RuleKind::force_deviation, "D", "standard deviation"},
    CriterionMark{RuleKind::statistical_maximum, "X", "statistical maximum"},
    CriterionMark{RuleKind::statistical_minimum, "N", "statistical minimum"},
    CriterionMark{RuleKind::contact_loss, "L", "contact loss"},
    CriterionMark{RuleKind::support_uplift, "U", "uplift at supports"},
    CriterionMark{RuleKind::wave_speed_share, "W", "share of the wave speed"},
    CriterionMark{RuleKind::speed_by_mechanics, "–", "no run was possible"}};

const CriterionMark* mark_of(RuleKind kind) {
  const auto* const found = std::ranges::find(marks, kind, &CriterionMark::kind);
  return found == marks.end() ? nullptr : found;
}

/// A value of an axis as a place on the sheet.
struct Scale {
  double from = 0;
  double to = 1;
  double at_from = 0;
  double at_to = 1;

  double operator()(double value) const {
    const double held = std::clamp(value, from, to);
    return at_from + (at_to - at_from) * (held - from) / (to - from);
  }
};

/// Borders of cells about values: half-way to the neighbours, and as far beyond the ends.
std::vector<double> borders(const std::vector<double>& values) {
  if (values.size() == 1) {
    return {values[0] - 0.5, values[0] + 0.5};
  }
  std::vector<double> all{values[0] - (values[1] - values[0]) / 2};
  for (std::size_t i = 1; i < values.size(); ++i) {
    all.push_back((values[i - 1] + values[i]) / 2);
  }
  all.push_back(2 * values.back() - all.back());
  return all;
}

/// A line over the picture with its name beside it.
struct NamedLine {
  std::vector<Point> points;  ///< on the sheet
  Stroke stroke;
  std::string name;
};

class EnvelopePicture {
 public:
  EnvelopePicture(Canvas& canvas, const TextSetter& setter, const EnvelopeReport& report)
      : canvas_(canvas), setter_(setter), envelope_(report.envelope) {}

  void draw() {
    const double top = draw_head();
    const double bottom = draw_foot();
    area_ = {margin + y_labels_width, top + 14,
             a4_landscape.width - 2 * margin - y_labels_width - line_names_width - legend_width, 0};
    area_.height = bottom - 62 - area_.y;
    x_borders_ = borders(envelope_.spacings_m);
    y_borders_ = borders(envelope_.speeds_kmh);
    x_ = {x_borders_.front(), x_borders_.back(), area_.x, area_.right()};
    y_ = {y_borders_.front(), y_borders_.back(), area_.bottom(), area_.y};
    draw_cells();
    draw_axes();
    draw_lines();
    draw_marks();
    draw_legend();
  }

 private:
  double draw_head() {
    const double width = a4_landscape.width - 2 * margin;
    double taken = 0;
    if (envelope_.invented) {
      const Text corner = setter_.set(std::string(invented_mark), small_bold);
      canvas_.text(corner, {margin + width - corner.width(), margin - 8});
      taken = corner.width() + 2 * gap;
    }
    const Text title = setter_.set(
        fmt::format("Permitted speed by the mechanics: {}", fitted(envelope_.line_name)),
        title_style, width - taken);
    canvas_.text(title, {margin, margin - 12});
    const double subtitle_top = margin - 12 + title.height() + 2;
    const Text subtitle =
        setter_.set(fmt::format("{}; {}; static force {:g} N; wave speed {:.0f} km/h",
                                fitted(raised_words(envelope_)),
                                envelope_.supply ? name_of(*envelope_.supply) : "supply not stated",
                                envelope_.static_force_n, envelope_.wave_speed_kmh),
                    small, width);
    canvas_.text(subtitle, {margin, subtitle_top});
    return subtitle_top + subtitle.height() + gap;
  }

  /// The top of what stands at the foot.
  double draw_foot() {
    const double width = a4_landscape.width - 2 * margin;
    std::vector<std::string> notes = notes_of(envelope_);
    const Text foot =
        setter_.set(fmt::format("{}", fmt::join(cautions("result"), " ")), small_bold, width);
    const Text told = setter_.set(fmt::format("{}", fmt::join(notes, " ")), small, width);
    const double bottom = a4_landscape.height - margin + 10;
    canvas_.text(foot, {margin, bottom - foot.height()});
    const double top = bottom - foot.height() - told.height() - 3;
    canvas_.line({margin, top - 4}, {margin + width, top - 4}, {0.5});
    canvas_.text(told, {margin, top});
    return top - 4;
  }

  void draw_cells() {
    for (std::size_t d = 0; d < envelope_.spacings_m.size(); ++d) {
      for (std::size_t v = 0; v < envelope_.speeds_kmh.size(); ++v) {
        const EnvelopeCell& cell = envelope_.cells[d][v];
        const double left = x_(x_borders_[d]);
        const double top = y_(y_borders_[v + 1]);
        const Box box{left, top, x_(x_borders_[d + 1]) - left, y_(y_borders_[v]) - top};
        if (!cell.passes) {
          canvas_.shade(box, failing_level);
          canvas_.hatch(box, failing_hatch_gap, failing_hatch);
          continue;
        }
        const auto* const of = std::ranges::find_if(
            classes, [&](const MarginClass& one) { return cell.margin >= one.from; });
        canvas_.shade(box, of == classes.end() ? classes.back().level : of->level);
      }
    }
    canvas_.frame(area_, axis_stroke);
  }

  void draw_axes() {
    const bool several = envelope_.count > 1;
    const Axis across = axis_within(x_.from, x_.to, static_cast<int>(area_.width / 40));
    if (several) {
      for (const double tick : across.ticks) {
        const double at = x_(tick);
        canvas_.line({at, area_.bottom()}, {at, area_.bottom() + tick_length}, axis_stroke);
        const Text label = setter_.set(tick_words(across, tick), small);
        canvas_.text(label, {at - label.width() / 2, area_.bottom() + tick_length + 1});
      }
      const Text name = setter_.set("distance between raised pantographs, m", small);
      canvas_.text(name, {area_.right() - name.width(), area_.bottom() + 16});
    }
    const Axis up = axis_within(y_.from, y_.to, static_cast<int>(area_.height / 18));
    for (const double tick : up.ticks) {
      const double at = y_(tick);
      canvas_.line({area_.x - tick_length, at}, {area_.x, at}, axis_stroke);
      const Text label = setter_.set(tick_words(up, tick), small);
      canvas_.text(label, {area_.x - tick_length - 3 - label.width(), at - label.height() / 2});
    }
    canvas_.text(setter_.set("speed, km/h", small), {margin, area_.y - 14});
  }

  /// One value over each distance, as a stair.
  template <typename Speed>
  std::vector<Point> stair(const Speed& speed_at) const {
    std::vector<Point> points;
    for (std::size_t d = 0; d < envelope_.spacings_m.size(); ++d) {
      const double at = y_(speed_at(d));
      points.push_back({x_(x_borders_[d]), at});
      points.push_back({x_(x_borders_[d + 1]), at});
    }
    return points;
  }

  std::vector<Point> published_stair(const PublishedSpeeds& published) const {
    std::vector<Point> points;
    for (const PublishedStep& step : published.steps) {
      if (step.distance_m >= x_.to) {
        break;
      }
      if (!points.empty()) {
        points.push_back({x_(step.distance_m), points.back().y});
      }
      points.push_back({x_(step.distance_m), y_(step.speed_kmh)});
    }
    if (!points.empty()) {
      points.push_back({area_.right(), points.back().y});
    }
    return points;
  }

  double passed_by(std::size_t distance, double share) const {
    std::vector<double> speeds = envelope_.samples[distance].permitted_speed_kmh;
    std::ranges::sort(speeds, std::greater<>());
    const double count = std::ceil(share * static_cast<double>(speeds.size()) - 1e-9);
    return speeds[std::min(speeds.size() - 1, static_cast<std::size_t>(std::max(1.0, count)) - 1)];
  }

  void draw_lines() {
    std::vector<NamedLine> lines;
    if (envelope_.count > 1) {
      for (const PublishedSpeeds& published : envelope_.published) {
        lines.push_back({published_stair(published),
                         {0.9, 2 + 2.5 * static_cast<double>(lines.size())},
                         fmt::format("table, type {}", name_of(published.type))});
      }
    }
    if (!envelope_.samples.empty()) {
      lines.push_back({stair([&](std::size_t d) { return passed_by(d, 0.5); }),
                       {1.1, 1.5},
                       "half of samples pass"});
      lines.push_back(
          {stair([&](std::size_t d) { return passed_by(d, 1); }), {1.1}, "all samples pass"});
    }
    lines.push_back({stair([&](std::size_t d) { return envelope_.permitted[d].speed_kmh; }),
                     permitted_stroke, "permitted speed"});
    std::erase_if(lines, [](const NamedLine& line) { return line.points.empty(); });
    for (const NamedLine& line : lines) {
      canvas_.clear_polyline(line.points, line.stroke.width + 1.8);
      canvas_.polyline(line.points, line.stroke);
    }
    name_lines(lines);
  }

  void name_lines(std::vector<NamedLine>& lines) {
    std::ranges::stable_sort(lines, {}, [](const NamedLine& line) { return line.points.back().y; });
    std::vector<double> wanted;
    for (const NamedLine& line : lines) {
      wanted.push_back(line.points.back().y);
    }
    const double height = setter_.set("0", small).height();
    const std::vector<double> places =
        spread(wanted, height, area_.y - height / 2, area_.bottom() + height / 2);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      canvas_.line({area_.right(), wanted[i]}, {area_.right() + leader, places[i]}, {0.3});
      canvas_.text(setter_.set(lines[i].name, lines[i].stroke.width > 2 ? small_bold : small),
                   {area_.right() + leader + 3, places[i] - height / 2});
    }
  }

  /// Below the axis, what decides at each distance.
  void draw_marks() {
    const double top = area_.bottom() + 30;
    const double cell = area_.width / static_cast<double>(envelope_.spacings_m.size());
    const Text widest = setter_.set("M", small_bold);
    const auto every = static_cast<std::size_t>(std::ceil((widest.width() + 3) / cell));
    canvas_.text(setter_.set("decides", small), {margin, top});
    for (std::size_t d = 0; d < envelope_.permitted.size(); d += every) {
      if (const CriterionMark* const mark = mark_at(d)) {
        const Text letter = setter_.set(std::string(mark->letter), small_bold);
        canvas_.text(letter, {x_(envelope_.spacings_m[d]) - letter.width() / 2, top});
      }
    }
  }

  const CriterionMark* mark_at(std::size_t distance) const {
    return mark_of(envelope_.permitted[distance].kind);
  }

  void draw_legend() {
    const double left = a4_landscape.width - margin - legend_width + gap;
    double y = area_.y;
    const auto entry = [&](const auto& draw_box, std::string_view words) {
      const Box box{left, y, 18, 10};
      draw_box(box);
      canvas_.frame(box, {0.4});
      canvas_.text(setter_.set(words, small), {left + 24, y - 1});
      y += 14;
    };
    for (const MarginClass& one : classes) {
      entry([&](const Box& box) { canvas_.shade(box, one.level); }, one.words);
    }
    entry(
        [&](const Box& box) {
          canvas_.shade(box, failing_level);
          canvas_.hatch(box, failing_hatch_gap, failing_hatch);
        },
        "fails");
    y += 6;
    canvas_.text(setter_.set("What decides at a distance:", small), {left, y});
    y += 13;
    for (const CriterionMark& mark : marks) {
      bool used = false;
      for (std::size_t d = 0; d < envelope_.permitted.size(); ++d) {
        used = used || mark_at(d) == &mark;
      }
      if (used) {
        canvas_.text(setter_.set(std::string(mark.letter), small_bold), {left + 4, y});
        canvas_.text(setter_.set(mark.words, small), {left + 24, y});
        y += 12;
      }
    }
  }

  Canvas& canvas_;
  const TextSetter& setter_;
  const Envelope& envelope_;
  Box area_;
  std::vector<double> x_borders_;
  std::vector<double> y_borders_;
  Scale x_;
  Scale y_;
};

}  // namespace

void draw_envelope(Canvas& canvas, const TextSetter& setter, const EnvelopeReport& report) {
  EnvelopePicture(canvas, setter, report).draw();
}

std::string envelope_to_svg(const EnvelopeReport& report) {
  const TextSetter setter;
  return sheet_to_svg(a4_landscape, 0,
                      [&](Canvas& canvas, std::size_t) { draw_envelope(canvas, setter, report); });
}

std::vector<RenderedFile> render_envelope(const EnvelopeReport& report) {
  const TextSetter setter;
  const DrawSheet draw = [&](Canvas& canvas, std::size_t) {
    draw_envelope(canvas, setter, report);
  };
  const std::string title = "Permitted speed by the mechanics: " + report.envelope.line_name;
  return {{"envelope.pdf", sheets_to_pdf(a4_landscape, 1, title, draw)},
          {"envelope-1.svg", sheet_to_svg(a4_landscape, 0, draw)},
          {"envelope-1.png", sheet_to_png(a4_landscape, 0, pixels_per_point, draw)}};
}

}  // namespace panup
