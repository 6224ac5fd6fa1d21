#include "drawing/text_setter.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace panup {

namespace {

constexpr std::string_view joiner = "\u2060";

constexpr const char* typeface = "Inter,DejaVu Sans";

PangoWeight pango_weight(FontWeight weight) {
  switch (weight) {
    case FontWeight::semibold:
      return PANGO_WEIGHT_SEMIBOLD;
    case FontWeight::bold:
      return PANGO_WEIGHT_BOLD;
    case FontWeight::regular:
      break;
  }
  return PANGO_WEIGHT_NORMAL;
}

PangoAlignment pango_alignment(TextAlign align) {
  switch (align) {
    case TextAlign::centre:
      return PANGO_ALIGN_CENTER;
    case TextAlign::right:
      return PANGO_ALIGN_RIGHT;
    case TextAlign::left:
      break;
  }
  return PANGO_ALIGN_LEFT;
}

/// A line may break behind a slash or a dash; not in a unit, nor in a stretch of chainage.
std::string with_joiners(std::string_view text) {
  constexpr std::string_view unit = "km/h";
  constexpr std::string_view dash = "–";
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::string_view rest = text.substr(i);
    if (rest.starts_with(unit)) {
      out += "km/\u2060h";
      i += unit.size();
    } else if (rest.starts_with(dash) && i > 0 && g_ascii_isdigit(text[i - 1])) {
      out += "–\u2060";
      i += dash.size();
    } else {
      out += text[i++];
    }
  }
  return out;
}

void add_attributes(PangoAttrList* list, const TextStyle& style, std::size_t from, std::size_t to) {
  const auto add = [&](PangoAttribute* attribute) {
    attribute->start_index = static_cast<guint>(from);
    attribute->end_index = static_cast<guint>(to);
    pango_attr_list_insert(list, attribute);
  };
  add(pango_attr_size_new(static_cast<int>(std::lround(style.size_pt * PANGO_SCALE))));
  add(pango_attr_weight_new(pango_weight(style.weight)));
  if (style.struck) {
    add(pango_attr_strikethrough_new(TRUE));
  }
}

/// What is shown of a stretch of a layout's text.
std::string shown_words(std::string_view text) {
  constexpr std::string_view no_break = "\u00a0";
  std::string out;
  bool after_space = false;
  for (std::size_t i = 0; i < text.size();) {
    if (text.substr(i).starts_with(joiner)) {
      i += joiner.size();
      continue;
    }
    const bool space = text[i] == ' ';
    if (space && after_space) {
      out += no_break;
    } else {
      out += text[i];
    }
    after_space = space;
    ++i;
  }
  return out;
}

/// The bytes of a text from `from` to `to`.
struct Stretch {
  std::size_t from = 0;
  std::size_t to = 0;
};

Stretch without_outer_spaces(std::string_view text, Stretch stretch) {
  const auto blank = [text](std::size_t at) { return text[at] == ' ' || text[at] == '\n'; };
  while (stretch.from < stretch.to && blank(stretch.from)) {
    ++stretch.from;
  }
  while (stretch.to > stretch.from && blank(stretch.to - 1)) {
    --stretch.to;
  }
  return stretch;
}

double x_on_line(PangoLayoutLine* line, std::size_t at) {
  int x = 0;
  pango_layout_line_index_to_x(line, static_cast<int>(at), FALSE, &x);
  return pango_units_to_double(x);
}

}  // namespace

TextSetter::TextSetter(const Words& words) : words_(words) {
  // Its own font map: nothing is shared with other threads, and nothing of the screen's settings
  // gets in. One point is one unit, whatever the surface.
  PangoFontMap* const map = pango_cairo_font_map_new();
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72);
  context_.reset(pango_font_map_create_context(map), &g_object_unref);
  g_object_unref(map);
  const std::string language(words.language());
  pango_context_set_language(
      context_.get(), pango_language_from_string(language == "en" ? "en-gb" : language.c_str()));
  pango_context_set_round_glyph_positions(context_.get(), FALSE);
  PangoFontDescription* const font = pango_font_description_new();
  pango_font_description_set_family_static(font, typeface);
  pango_context_set_font_description(context_.get(), font);
  pango_font_description_free(font);
  cairo_font_options_t* const options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context_.get(), options);
  cairo_font_options_destroy(options);
}

Text TextSetter::set(const std::vector<TextSpan>& spans, std::optional<double> width,
                     TextAlign align) const {
  Text text;
  std::string whole;
  std::string words;
  PangoAttrList* const attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
  for (const TextSpan& span : spans) {
    const std::size_t from = whole.size();
    whole += with_joiners(span.text);
    words += span.text;
    add_attributes(attributes, span.style, from, whole.size());
    text.styles_.push_back({whole.size(), span.style});
  }
  text.words_ = std::move(words);
  for (const TextSpan& span : spans) {
    const double size = span.style.size_pt;
    text.smallest_pt_ = text.smallest_pt_ == 0 ? size : std::min(text.smallest_pt_, size);
  }
  text.layout_.reset(pango_layout_new(context_.get()), &g_object_unref);
  PangoLayout* const layout = text.layout_.get();
  pango_layout_set_attributes(layout, attributes);
  pango_attr_list_unref(attributes);
  pango_layout_set_text(layout, whole.data(), static_cast<int>(whole.size()));
  pango_layout_set_alignment(layout, pango_alignment(align));
  if (width) {
    pango_layout_set_width(layout, static_cast<int>(std::lround(*width * PANGO_SCALE)));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  }
  PangoRectangle logical;
  pango_layout_get_extents(layout, nullptr, &logical);
  text.width_ = width ? *width : pango_units_to_double(logical.width);
  text.height_ = pango_units_to_double(logical.height);
  text.baseline_ = pango_units_to_double(pango_layout_get_baseline(layout));
  return text;
}

Text TextSetter::set(std::string_view text, TextStyle style, std::optional<double> width,
                     TextAlign align) const {
  return set(std::vector<TextSpan>{{std::string(text), style}}, width, align);
}

std::vector<TextPiece> Text::pieces() const {
  std::vector<TextPiece> pieces;
  if (empty()) {
    return pieces;
  }
  const std::string_view whole = pango_layout_get_text(layout_.get());
  const std::unique_ptr<PangoLayoutIter, decltype(&pango_layout_iter_free)> lines(
      pango_layout_get_iter(layout_.get()), &pango_layout_iter_free);
  do {
    PangoLayoutLine* const line = pango_layout_iter_get_line_readonly(lines.get());
    PangoRectangle logical;
    pango_layout_iter_get_line_extents(lines.get(), nullptr, &logical);
    const double baseline = pango_units_to_double(pango_layout_iter_get_baseline(lines.get()));
    const auto line_from = static_cast<std::size_t>(line->start_index);
    const std::size_t line_to = line_from + static_cast<std::size_t>(line->length);
    std::size_t from = 0;
    for (const StyleEnd& style : styles_) {
      const Stretch piece =
          without_outer_spaces(whole, {std::max(from, line_from), std::min(style.at, line_to)});
      from = style.at;
      if (piece.from < piece.to) {
        const double left = x_on_line(line, piece.from);
        pieces.push_back({shown_words(whole.substr(piece.from, piece.to - piece.from)),
                          {pango_units_to_double(logical.x) + left, baseline},
                          x_on_line(line, piece.to) - left,
                          style.style});
      }
    }
  } while (pango_layout_iter_next_line(lines.get()) != FALSE);
  return pieces;
}

}  // namespace panup
