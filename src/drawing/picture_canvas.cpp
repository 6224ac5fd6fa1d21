#include "drawing/picture_canvas.h"

#include <optional>
#include <utility>

namespace panup {

namespace {

std::vector<Point> corners(const Box& box) {
  return {{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}};
}

}  // namespace

template <typename Kind>
void PictureCanvas::add(Kind mark) {
  picture_.marks.push_back({parts_.empty() ? std::string() : parts_.back(), std::move(mark)});
}

void PictureCanvas::stroke_path(const std::vector<Point>& points, bool closed, Stroke stroke,
                                Ink ink) {
  add(LineMark{points, closed, stroke.width, stroke.dash, ink == Ink::white});
}

void PictureCanvas::stroke_box(const Box& box, Stroke stroke) {
  add(LineMark{corners(box), true, stroke.width, stroke.dash, false});
}

void PictureCanvas::fill_path(const std::vector<Point>& points, Ink ink) {
  add(AreaMark{points, ink == Ink::white, std::nullopt});
}

void PictureCanvas::fill_boxes(const std::vector<Box>& boxes, double level) {
  for (const Box& box : boxes) {
    add(AreaMark{corners(box), level == 1,
                 level > 0 && level < 1 ? std::optional(level) : std::nullopt});
  }
}

void PictureCanvas::stroke_circle(Point centre, double radius, Stroke stroke) {
  add(CircleMark{centre, radius, stroke.width});
}

void PictureCanvas::fill_circle(Point centre, double radius, Ink ink) {
  add(DiscMark{centre, radius, ink == Ink::white});
}

void PictureCanvas::hatch_boxes(const std::vector<Box>& boxes, double gap, Stroke stroke) {
  add(HatchMark{boxes, gap, stroke.width});
}

void PictureCanvas::show_text(const Text& text, Point at, Ink ink) {
  for (TextPiece& piece : text.pieces()) {
    add(TextMark{{at.x + piece.at.x, at.y + piece.at.y},
                 std::move(piece.words),
                 piece.style.size_pt,
                 piece.style.weight,
                 piece.width,
                 ink == Ink::white,
                 piece.style.struck});
  }
}

void PictureCanvas::begin_part(std::string_view of) { parts_.emplace_back(of); }

void PictureCanvas::end_part() { parts_.pop_back(); }

}  // namespace panup
