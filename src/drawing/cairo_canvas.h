#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.h"

typedef struct _cairo cairo_t;  // NOLINT(modernize-use-using): as cairo names it

namespace panup {

/// A text that was drawn, with plain spaces: the box that its ink covers, and the size of its
/// smallest type.
struct DrawnText {
  std::string text;
  Box ink;
  double smallest_pt = 0;
};

/// Draws on a surface of cairo's. Where a record is given, each text drawn is noted in it.
class CairoCanvas final : public Canvas {
 public:
  explicit CairoCanvas(cairo_t* cairo, std::vector<DrawnText>* record = nullptr)
      : cairo_(cairo), record_(record) {}

 private:
  void stroke_path(const std::vector<Point>& points, bool closed, Stroke stroke, Ink ink) override;
  void stroke_box(const Box& box, Stroke stroke) override;
  void fill_path(const std::vector<Point>& points, Ink ink) override;
  void fill_boxes(const std::vector<Box>& boxes, double level) override;
  void stroke_circle(Point centre, double radius, Stroke stroke) override;
  void fill_circle(Point centre, double radius, Ink ink) override;
  void hatch_boxes(const std::vector<Box>& boxes, double gap, Stroke stroke) override;
  void show_text(const Text& text, Point at, Ink ink) override;

  void use(Ink ink);
  void use(Stroke stroke, Ink ink = Ink::black);
  void path(const std::vector<Point>& points, bool closed);
  void path(const std::vector<Box>& boxes);

  cairo_t* cairo_;
  std::vector<DrawnText>* record_;
};

}  // namespace panup
