#include <algorithm>
#include <cmath>

#include "drawing/picture_canvas.h"
#include "pictures/separation_course.h"
#include "pictures/separation_drawing.h"

namespace panup {

namespace {

constexpr double edge = 4;
constexpr double type_pt = 10;

/// The corners of what a mark covers, of a text its line.
std::vector<Point> points_of(const Mark& mark) {
  if (const auto* const line = std::get_if<LineMark>(&mark.is)) {
    return line->points;
  }
  if (const auto* const area = std::get_if<AreaMark>(&mark.is)) {
    return area->points;
  }
  if (const auto* const text = std::get_if<TextMark>(&mark.is)) {
    return {{text->at.x, text->at.y - text->size}, {text->at.x + text->width, text->at.y}};
  }
  if (const auto* const disc = std::get_if<DiscMark>(&mark.is)) {
    return {{disc->at.x - disc->radius, disc->at.y - disc->radius},
            {disc->at.x + disc->radius, disc->at.y + disc->radius}};
  }
  return {};
}

/// A place about all marks of each part, in the order in which parts appear.
std::vector<PicturePlace> places_about_marks(const Picture& picture) {
  std::vector<PicturePlace> places;
  for (const Mark& mark : picture.marks) {
    for (const Point point : points_of(mark)) {
      auto place = std::ranges::find(places, mark.of, &PicturePlace::of);
      if (place == places.end()) {
        places.push_back({mark.of, {point.x, point.y, 0, 0}});
        continue;
      }
      const double right = std::max(place->box.right(), point.x);
      const double bottom = std::max(place->box.bottom(), point.y);
      place->box.x = std::min(place->box.x, point.x);
      place->box.y = std::min(place->box.y, point.y);
      place->box.width = right - place->box.x;
      place->box.height = bottom - place->box.y;
    }
  }
  std::erase_if(places, [](const PicturePlace& place) { return place.of == "scale"; });
  return places;
}

}  // namespace

Picture separation_picture(const Plan& plan, const SeparationMoment& moment, double width) {
  const TextSetter setter(plan.words);
  Columns columns;
  columns.left = edge;
  columns.right = width - edge;
  const Block block = draw_separation(setter, plan, moment, columns, type_pt);
  Picture picture;
  picture.width = width;
  picture.height = block.height;
  picture.told = separation_words(plan, moment);
  PictureCanvas canvas(picture);
  block.draw(canvas, 0);
  picture.places = places_about_marks(picture);
  return picture;
}

}  // namespace panup
