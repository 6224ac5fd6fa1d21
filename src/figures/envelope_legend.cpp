#include <algorithm>

#include "drawing/text_style.h"
#include "figures/envelope.h"
#include "figures/envelope_plot.h"
#include "figures/permitted_words.h"

namespace panup {

namespace {

constexpr double between_rows = 13;
constexpr double between_texts = 3;
constexpr double swatch_width = 18;
constexpr double swatch_height = 10;
constexpr double words_at = 24;
constexpr double legend_words_width = 142;

struct CriterionMark {
  RuleKind kind{};
  std::string_view letter;
  std::string_view words;
};
constexpr std::array criterion_marks{
    CriterionMark{RuleKind::mean_contact_force, "M", "mean contact force"},
    CriterionMark{RuleKind::force_deviation, "D", "standard deviation"},
    CriterionMark{RuleKind::statistical_maximum, "X", "statistical maximum"},
    CriterionMark{RuleKind::statistical_minimum, "N", "statistical minimum"},
    CriterionMark{RuleKind::contact_loss, "L", "contact loss"},
    CriterionMark{RuleKind::support_uplift, "U", "uplift at supports"},
    CriterionMark{RuleKind::wave_speed_share, "W", "share of the wave speed"},
    CriterionMark{RuleKind::speed_by_mechanics, "–", "no run was possible"}};

const CriterionMark* mark_of(RuleKind kind) {
  const auto* const found = std::ranges::find(criterion_marks, kind, &CriterionMark::kind);
  return found == criterion_marks.end() ? nullptr : found;
}

struct PlacedText {
  Text text;
  double middle = 0;
};

/// The name of a row, and those of its texts that touch none before them; with `all_or_none`, all
/// or none of the row.
void draw_row(Canvas& canvas, const Text& name, Point at, const std::vector<PlacedText>& texts,
              bool all_or_none) {
  std::vector<const PlacedText*> fitting;
  double free_from = at.x + name.width() + between_texts;
  for (const PlacedText& placed : texts) {
    const double left = placed.middle - placed.text.width() / 2;
    if (left >= free_from) {
      fitting.push_back(&placed);
      free_from = left + placed.text.width() + between_texts;
    }
  }
  if (all_or_none && fitting.size() < texts.size()) {
    return;
  }
  canvas.text(name, at);
  for (const PlacedText* const placed : fitting) {
    canvas.text(placed->text, {placed->middle - placed->text.width() / 2, at.y});
  }
}

/// One for each distance.
std::vector<PlacedText> permitted_figures(const TextSetter& setter, const Envelope& envelope,
                                          const EnvelopePlot& plot) {
  std::vector<PlacedText> texts;
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    const double speed = envelope.permitted[d].speed_kmh;
    texts.push_back({setter.set(speed_figure_or_none(speed, setter.words()), small_bold),
                     plot.x(envelope.spacings_m[d])});
  }
  return texts;
}

}  // namespace

void draw_figure_rows(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
                      const EnvelopePlot& plot, Point at) {
  // Were some figures left out, the lowest might be among them.
  draw_row(canvas, setter.set(setter.words().say("km/h"), small), at,
           permitted_figures(setter, envelope, plot), true);
  // One letter for neighbouring distances at which the same decides, between strokes.
  const Point below{at.x, at.y + between_rows};
  std::vector<PlacedText> letters;
  std::size_t d = 0;
  while (d < envelope.permitted.size()) {
    const std::size_t first = d;
    while (d < envelope.permitted.size() &&
           envelope.permitted[d].kind == envelope.permitted[first].kind) {
      ++d;
    }
    if (const CriterionMark* const mark = mark_of(envelope.permitted[first].kind)) {
      const double from = plot.x(envelope.spacings_m[first]);
      const double to = plot.x(envelope.spacings_m[d - 1]);
      letters.push_back({setter.set(mark->letter, small_bold), (from + to) / 2});
    }
    if (d < envelope.permitted.size()) {
      const double border = plot.x_borders[d];
      canvas.line({border, below.y + 1}, {border, below.y + between_rows - 2}, {0.4});
    }
  }
  draw_row(canvas, setter.set(setter.words().say("decides"), small), below, letters, false);
}

void draw_envelope_legend(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
                          Point at) {
  const Words& words = setter.words();
  double y = at.y;
  for (const Shade& shade : shades) {
    const Box box{at.x, y, swatch_width, swatch_height};
    fill_with(canvas, {box}, shade);
    canvas.frame(box, {0.4});
    canvas.text(setter.set(words.named(shade.words), small), {at.x + words_at, y - 1});
    y += between_rows + 1;
  }
  const Text band = setter.set(
      words.say("Light above hatched: faster speeds pass again, but the band between must be run "
                "through, and the permitted speed stays below it."),
      small, legend_words_width);
  if (!failing_bands(envelope).empty()) {
    canvas.text(band, {at.x, y});
    y += band.height();
  }
  y += between_rows / 2;
  canvas.text(setter.set(words.say("What decides:"), small), {at.x, y});
  y += between_rows;
  for (const CriterionMark& mark : criterion_marks) {
    if (std::ranges::find(envelope.permitted, mark.kind, &PermittedSpeed::kind) !=
        envelope.permitted.end()) {
      canvas.text(setter.set(mark.letter, small_bold), {at.x + 4, y});
      canvas.text(setter.set(words.named(mark.words), small), {at.x + words_at, y});
      y += between_rows;
    }
  }
}

}  // namespace panup
