#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "drawing/sheet_places.h"
#include "drawing/text_setter.h"

namespace panup {

/// A line through points; round where it bends.
struct LineMark {
  std::vector<Point> points;
  bool closed = false;
  double width = 0;
  double dash = 0;  ///< length of dashes and gaps; 0: solid
  bool white = false;
};

struct AreaMark {
  std::vector<Point> points;
  bool white = false;
  std::optional<double> grey;  ///< 0 black, 1 white; nothing: black, or white
};

struct CircleMark {
  Point at;
  double radius = 0;
  double width = 0;
};

struct DiscMark {
  Point at;
  double radius = 0;
  bool white = false;
};

/// Lines that rise to the right at 45 degrees, within all boxes as one: they go on from box to box.
/// `gap` is measured level, and one of them runs through the upper left corner of what all boxes
/// together cover.
struct HatchMark {
  std::vector<Box> boxes;
  double gap = 0;
  double width = 0;
};

/// One line of text in one style.
struct TextMark {
  Point at;  ///< left end of its baseline
  std::string words;
  double size = 0;
  FontWeight weight = FontWeight::regular;
  double width = 0;  ///< as it was set
  bool white = false;
  bool struck = false;
};

struct Mark {
  std::string of;  ///< what it belongs to, as in "vehicle 1"; may be empty
  std::variant<LineMark, AreaMark, CircleMark, DiscMark, HatchMark, TextMark> is;
};

/// A box of a picture that can be pointed at.
struct PicturePlace {
  std::string of;
  Box box;
};

/// A drawing as a list of marks, the first one lowest, in points from its upper left corner; for
/// whoever shows drawings without paper. What does not apply to it is not stated.
struct Picture {
  double width = 0;
  double height = 0;
  std::string told;  ///< in words, for those who do not see it
  std::optional<double> points_per_m;
  std::optional<double> wire_y;  ///< lower face of the contact wire, where contact strips touch it
  std::optional<double> rail_y;
  std::vector<PicturePlace> places;  ///< where they overlap, the later one lies above
  std::vector<Mark> marks;
};

}  // namespace panup
