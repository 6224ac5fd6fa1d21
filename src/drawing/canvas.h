#pragma once
/// The room `drawing`: what any picture or text is made with. A canvas that becomes PDF, SVG, PNG
/// or a list of marks for the page; text set and broken into lines; axes, diagrams and sheets; JSON
/// as text. It knows nothing of trains.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/sheet_places.h"
#include "drawing/text_setter.h"

namespace panup {

/// How a line is drawn; black.
struct Stroke {
  double width = 0.5;
  double dash = 0;  ///< length of dashes and gaps; 0: solid
};

/// What is drawn with: black ink, or the white of the paper.
enum class Ink : std::uint8_t { black, white };

/// What a drawing is drawn on: paper (`CairoCanvas`), or a list of marks for a page to show
/// (`PictureCanvas`). Places are in points from the upper left corner.
class Canvas {
 public:
  Canvas() = default;
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;
  virtual ~Canvas() = default;

  void line(Point from, Point to, Stroke stroke);
  void polyline(const std::vector<Point>& points, Stroke stroke, bool closed = false);
  /// The same in white: beneath a line, it keeps it apart from what it crosses.
  void clear_polyline(const std::vector<Point>& points, double width);
  void fill(const std::vector<Point>& points, Ink ink = Ink::black);
  void frame(const Box& box, Stroke stroke);
  void fill(const Box& box, Ink ink = Ink::black);
  /// All boxes in one level of grey: 0 black, 1 white. Boxes that meet have no seam on paper.
  void shade(const std::vector<Box>& boxes, double level);
  void circle(Point centre, double radius, Stroke stroke);
  void disc(Point centre, double radius, Ink ink = Ink::black);
  /// Slanting parallel lines `gap` apart, within the box.
  void hatch(const Box& box, double gap, Stroke stroke);
  /// The same within all boxes, as one: lines go on from box to box.
  void hatch(const std::vector<Box>& boxes, double gap, Stroke stroke);
  /// The upper left corner of the text at `at`.
  void text(const Text& text, Point at, Ink ink = Ink::black);

 private:
  friend class PartOf;

  virtual void stroke_path(const std::vector<Point>& points, bool closed, Stroke stroke,
                           Ink ink) = 0;
  virtual void stroke_box(const Box& box, Stroke stroke) = 0;
  virtual void fill_path(const std::vector<Point>& points, Ink ink) = 0;
  virtual void fill_boxes(const std::vector<Box>& boxes, double level) = 0;
  virtual void stroke_circle(Point centre, double radius, Stroke stroke) = 0;
  virtual void fill_circle(Point centre, double radius, Ink ink) = 0;
  /// At least one box.
  virtual void hatch_boxes(const std::vector<Box>& boxes, double gap, Stroke stroke) = 0;
  /// A text that is not empty.
  virtual void show_text(const Text& text, Point at, Ink ink) = 0;
  virtual void begin_part(std::string_view of);
  virtual void end_part();
};

/// While it lives, what is drawn is part of the thing named, as in "vehicle 1"; within another one,
/// the inner one counts. Paper does not know of it.
///
///     const PartOf part(canvas, "wire");
///     canvas.line(…);
class PartOf {
 public:
  PartOf(Canvas& canvas, std::string_view of) : canvas_(canvas) { canvas_.begin_part(of); }
  PartOf(const PartOf&) = delete;
  PartOf& operator=(const PartOf&) = delete;
  ~PartOf() { canvas_.end_part(); }

 private:
  Canvas& canvas_;
};

}  // namespace panup
