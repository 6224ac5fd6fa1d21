#include "drawing/cairo_canvas.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

namespace panup {

namespace {

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

void CairoCanvas::use(Ink ink) {
  const double level = ink == Ink::black ? 0 : 1;
  cairo_set_source_rgb(cairo_, level, level, level);
}

void CairoCanvas::use(Stroke stroke, Ink ink) {
  use(ink);
  cairo_set_line_width(cairo_, stroke.width);
  cairo_set_dash(cairo_, &stroke.dash, stroke.dash > 0 ? 1 : 0, 0);
}

void CairoCanvas::path(const std::vector<Point>& points, bool closed) {
  cairo_new_path(cairo_);
  for (const Point point : points) {
    cairo_line_to(cairo_, point.x, point.y);
  }
  if (closed) {
    cairo_close_path(cairo_);
  }
}

void CairoCanvas::path(const std::vector<Box>& boxes) {
  cairo_new_path(cairo_);
  for (const Box& box : boxes) {
    cairo_rectangle(cairo_, box.x, box.y, box.width, box.height);
  }
}

void CairoCanvas::stroke_path(const std::vector<Point>& points, bool closed, Stroke stroke,
                              Ink ink) {
  path(points, closed);
  use(stroke, ink);
  cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke(cairo_);
}

void CairoCanvas::stroke_box(const Box& box, Stroke stroke) {
  path({box});
  use(stroke);
  cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_MITER);
  cairo_stroke(cairo_);
}

void CairoCanvas::fill_path(const std::vector<Point>& points, Ink ink) {
  path(points, true);
  use(ink);
  cairo_fill(cairo_);
}

void CairoCanvas::fill_boxes(const std::vector<Box>& boxes, double level) {
  path(boxes);
  cairo_set_source_rgb(cairo_, level, level, level);
  cairo_fill(cairo_);
}

void CairoCanvas::stroke_circle(Point centre, double radius, Stroke stroke) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  use(stroke);
  cairo_stroke(cairo_);
}

void CairoCanvas::fill_circle(Point centre, double radius, Ink ink) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  use(ink);
  cairo_fill(cairo_);
}

void CairoCanvas::hatch_boxes(const std::vector<Box>& boxes, double gap, Stroke stroke) {
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

void CairoCanvas::show_text(const Text& text, Point at, Ink ink) {
  use(ink);
  cairo_move_to(cairo_, at.x, at.y);
  pango_cairo_show_layout(cairo_, text.layout());
  if (record_ != nullptr) {
    PangoRectangle extents;
    pango_layout_get_extents(text.layout(), &extents, nullptr);
    record_->push_back(
        {with_plain_spaces(text.words()),
         {at.x + pango_units_to_double(extents.x), at.y + pango_units_to_double(extents.y),
          pango_units_to_double(extents.width), pango_units_to_double(extents.height)},
         text.smallest_pt()});
  }
}

}  // namespace panup
