#include "render/canvas.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace panup {

namespace {

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

std::string with_plain_spaces(std::string_view text) {
  constexpr std::string_view no_break = "\u00a0";
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const bool space = text.substr(i).starts_with(no_break);
    out += space ? ' ' : text[i];
    i += space ? no_break.size() : 1;
  }
  return out;
}

double points(int pango_units) { return static_cast<double>(pango_units) / PANGO_SCALE; }

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

/// The box about all of them; at least one.
Box around(const std::vector<Box>& boxes) {
  Box all = boxes.front();
  for (const Box& box : boxes) {
    const double right = std::max(all.right(), box.right());
    const double bottom = std::max(all.bottom(), box.bottom());
    all.x = std::min(all.x, box.x);
    all.y = std::min(all.y, box.y);
    all.width = right - all.x;
    all.height = bottom - all.y;
  }
  return all;
}

}  // namespace

TextSetter::TextSetter() {
  // Its own font map: nothing is shared with other threads, and nothing of the screen's settings
  // gets in. One point is one unit, whatever the surface.
  PangoFontMap* const map = pango_cairo_font_map_new();
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72);
  context_.reset(pango_font_map_create_context(map), &g_object_unref);
  g_object_unref(map);
  pango_context_set_language(context_.get(), pango_language_from_string("en-gb"));
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
  std::string whole;
  std::string words;
  PangoAttrList* const attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
  for (const TextSpan& span : spans) {
    const std::size_t from = whole.size();
    whole += with_joiners(span.text);
    words += span.text;
    add_attributes(attributes, span.style, from, whole.size());
  }
  Text text;
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
  text.width_ = width ? *width : points(logical.width);
  text.height_ = points(logical.height);
  text.baseline_ = points(pango_layout_get_baseline(layout));
  return text;
}

Text TextSetter::set(std::string_view text, TextStyle style, std::optional<double> width,
                     TextAlign align) const {
  return set(std::vector<TextSpan>{{std::string(text), style}}, width, align);
}

void Canvas::use(Ink ink) {
  const double level = ink == Ink::black ? 0 : 1;
  cairo_set_source_rgb(cairo_, level, level, level);
}

void Canvas::use(Stroke stroke) {
  use(Ink::black);
  cairo_set_line_width(cairo_, stroke.width);
  cairo_set_dash(cairo_, &stroke.dash, stroke.dash > 0 ? 1 : 0, 0);
}

void Canvas::path(const std::vector<Point>& points, bool closed) {
  cairo_new_path(cairo_);
  for (const Point point : points) {
    cairo_line_to(cairo_, point.x, point.y);
  }
  if (closed) {
    cairo_close_path(cairo_);
  }
}

void Canvas::path(const std::vector<Box>& boxes) {
  cairo_new_path(cairo_);
  for (const Box& box : boxes) {
    cairo_rectangle(cairo_, box.x, box.y, box.width, box.height);
  }
}

void Canvas::line(Point from, Point to, Stroke stroke) { polyline({from, to}, stroke); }

void Canvas::polyline(const std::vector<Point>& points, Stroke stroke, bool closed) {
  path(points, closed);
  use(stroke);
  cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke(cairo_);
}

void Canvas::fill(const std::vector<Point>& points, Ink ink) {
  path(points, true);
  use(ink);
  cairo_fill(cairo_);
}

void Canvas::frame(const Box& box, Stroke stroke) {
  cairo_new_path(cairo_);
  cairo_rectangle(cairo_, box.x, box.y, box.width, box.height);
  use(stroke);
  cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_MITER);
  cairo_stroke(cairo_);
}

void Canvas::fill(const Box& box, Ink ink) {
  cairo_new_path(cairo_);
  cairo_rectangle(cairo_, box.x, box.y, box.width, box.height);
  use(ink);
  cairo_fill(cairo_);
}

void Canvas::shade(const std::vector<Box>& boxes, double level) {
  path(boxes);
  cairo_set_source_rgb(cairo_, level, level, level);
  cairo_fill(cairo_);
}

void Canvas::clear_polyline(const std::vector<Point>& points, double width) {
  path(points, false);
  use(Stroke{width});
  use(Ink::white);
  cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke(cairo_);
}

void Canvas::circle(Point centre, double radius, Stroke stroke) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  use(stroke);
  cairo_stroke(cairo_);
}

void Canvas::disc(Point centre, double radius, Ink ink) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  use(ink);
  cairo_fill(cairo_);
}

void Canvas::hatch(const Box& box, double gap, Stroke stroke) {
  hatch(std::vector<Box>{box}, gap, stroke);
}

void Canvas::hatch(const std::vector<Box>& boxes, double gap, Stroke stroke) {
  if (boxes.empty()) {
    return;
  }
  const Box all = around(boxes);
  cairo_save(cairo_);
  path(boxes);
  cairo_clip(cairo_);
  const int count = static_cast<int>(std::ceil((all.width + all.height) / gap));
  for (int i = 0; i < count; ++i) {
    const double x = all.x - all.height + i * gap;
    line({x, all.bottom()}, {x + all.height, all.y}, stroke);
  }
  cairo_restore(cairo_);
}

void Canvas::text(const Text& text, Point at, Ink ink) {
  if (text.empty()) {
    return;
  }
  use(ink);
  cairo_move_to(cairo_, at.x, at.y);
  pango_cairo_show_layout(cairo_, text.layout_.get());
  if (record_ != nullptr) {
    PangoRectangle extents;
    pango_layout_get_extents(text.layout_.get(), &extents, nullptr);
    record_->push_back({with_plain_spaces(text.words_),
                        {at.x + points(extents.x), at.y + points(extents.y), points(extents.width),
                         points(extents.height)},
                        text.smallest_pt()});
  }
}

}  // namespace panup
