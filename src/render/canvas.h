#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

typedef struct _cairo cairo_t;              // NOLINT(modernize-use-using): as cairo names it
typedef struct _PangoContext PangoContext;  // NOLINT(modernize-use-using): as Pango names it
typedef struct _PangoLayout PangoLayout;    // NOLINT(modernize-use-using): as Pango names it

namespace panup {

/// A point on a sheet, in points of 1/72 inch from its upper left corner.
struct Point {
  double x = 0;
  double y = 0;
};

/// An upright rectangle on a sheet, in points.
struct Box {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

enum class FontWeight : std::uint8_t { regular, semibold, bold };
enum class TextAlign : std::uint8_t { left, centre, right };

struct TextStyle {
  double size_pt = 9;
  FontWeight weight = FontWeight::regular;
  bool struck = false;  ///< struck through
};

/// A run of text in one style.
struct TextSpan {
  std::string text;
  TextStyle style;
};

/// A text laid out and measured, ready to be drawn on any canvas. Copies share the layout.
class Text {
 public:
  Text() = default;

  /// Of the widest line, or the width it was set to, in points.
  double width() const { return width_; }
  double height() const { return height_; }
  /// Of the first line, below the top.
  double baseline() const { return baseline_; }
  /// Of the smallest type in it, in points.
  double smallest_pt() const { return smallest_pt_; }
  bool empty() const { return layout_ == nullptr; }

 private:
  friend class TextSetter;
  friend class Canvas;
  std::shared_ptr<PangoLayout> layout_;
  std::string words_;  ///< as it was given
  double width_ = 0;
  double height_ = 0;
  double baseline_ = 0;
  double smallest_pt_ = 0;
};

/// Sets text in the card's typeface, with figures of equal width. One for a drawing and a thread.
class TextSetter {
 public:
  TextSetter();

  /// Sets `spans` one after the other. With a width, lines break at spaces, and within a word that
  /// is longer than a line.
  Text set(const std::vector<TextSpan>& spans, std::optional<double> width = std::nullopt,
           TextAlign align = TextAlign::left) const;
  Text set(std::string_view text, TextStyle style, std::optional<double> width = std::nullopt,
           TextAlign align = TextAlign::left) const;

 private:
  std::shared_ptr<PangoContext> context_;
};

/// How a line is drawn; black.
struct Stroke {
  double width = 0.5;
  double dash = 0;  ///< length of dashes and gaps; 0: solid
};

/// What is drawn with: black ink, or the white of the paper.
enum class Ink : std::uint8_t { black, white };

/// A text that was drawn, with plain spaces: the box that its ink covers, and the size of its
/// smallest type.
struct DrawnText {
  std::string text;
  Box ink;
  double smallest_pt = 0;
};

/// Draws on a surface of cairo's. Where a record is given, each text drawn is noted in it.
class Canvas {
 public:
  explicit Canvas(cairo_t* cairo, std::vector<DrawnText>* record = nullptr)
      : cairo_(cairo), record_(record) {}

  void line(Point from, Point to, Stroke stroke);
  void polyline(const std::vector<Point>& points, Stroke stroke, bool closed = false);
  /// The same in white: beneath a line, it keeps it apart from what it crosses.
  void clear_polyline(const std::vector<Point>& points, double width);
  void fill(const std::vector<Point>& points, Ink ink = Ink::black);
  void frame(const Box& box, Stroke stroke);
  void fill(const Box& box, Ink ink = Ink::black);
  /// All boxes in one level of grey: 0 black, 1 white. Boxes that meet have no seam.
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
  void use(Ink ink);
  void use(Stroke stroke);
  void path(const std::vector<Point>& points, bool closed);
  void path(const std::vector<Box>& boxes);

  cairo_t* cairo_;
  std::vector<DrawnText>* record_;
};

}  // namespace panup
