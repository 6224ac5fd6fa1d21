#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.h"
#include "drawing/picture.h"

namespace panup {

/// Draws by adding marks to a picture, which must outlive it.
class PictureCanvas final : public Canvas {
 public:
  explicit PictureCanvas(Picture& picture) : picture_(picture) {}

 private:
  void stroke_path(const std::vector<Point>& points, bool closed, Stroke stroke, Ink ink) override;
  void stroke_box(const Box& box, Stroke stroke) override;
  void fill_path(const std::vector<Point>& points, Ink ink) override;
  void fill_boxes(const std::vector<Box>& boxes, double level) override;
  void stroke_circle(Point centre, double radius, Stroke stroke) override;
  void fill_circle(Point centre, double radius, Ink ink) override;
  void hatch_boxes(const std::vector<Box>& boxes, double gap, Stroke stroke) override;
  void show_text(const Text& text, Point at, Ink ink) override;
  void begin_part(std::string_view of) override;
  void end_part() override;

  template <typename Kind>
  void add(Kind mark);

  Picture& picture_;
  std::vector<std::string> parts_;  ///< the innermost last
};

}  // namespace panup
