#include "drawing/canvas.h"

namespace panup {

void Canvas::line(Point from, Point to, Stroke stroke) { polyline({from, to}, stroke); }

void Canvas::polyline(const std::vector<Point>& points, Stroke stroke, bool closed) {
  stroke_path(points, closed, stroke, Ink::black);
}

void Canvas::clear_polyline(const std::vector<Point>& points, double width) {
  stroke_path(points, false, {.width = width}, Ink::white);
}

void Canvas::fill(const std::vector<Point>& points, Ink ink) { fill_path(points, ink); }

void Canvas::frame(const Box& box, Stroke stroke) { stroke_box(box, stroke); }

void Canvas::fill(const Box& box, Ink ink) { fill_boxes({box}, ink == Ink::black ? 0 : 1); }

void Canvas::shade(const std::vector<Box>& boxes, double level) { fill_boxes(boxes, level); }

void Canvas::circle(Point centre, double radius, Stroke stroke) {
  stroke_circle(centre, radius, stroke);
}

void Canvas::disc(Point centre, double radius, Ink ink) { fill_circle(centre, radius, ink); }

void Canvas::hatch(const Box& box, double gap, Stroke stroke) {
  hatch(std::vector<Box>{box}, gap, stroke);
}

void Canvas::hatch(const std::vector<Box>& boxes, double gap, Stroke stroke) {
  if (!boxes.empty()) {
    hatch_boxes(boxes, gap, stroke);
  }
}

void Canvas::text(const Text& text, Point at, Ink ink) {
  if (!text.empty()) {
    show_text(text, at, ink);
  }
}

void Canvas::begin_part(std::string_view /*of*/) {}

void Canvas::end_part() {}

}  // namespace panup
