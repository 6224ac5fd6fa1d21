#include "pictures/train_picture.h"

#include <algorithm>

#include "drawing/picture_canvas.h"
#include "pictures/train_drawing.h"
#include "pictures/train_told.h"
#include "stock/layout.h"

namespace panup {

namespace {

/// At the left, above and below, for frames of texts reach a little over them. At the right the
/// wire runs out of the picture.
constexpr double margin = 4;

TrainDrawingStyle style_of(double width) {
  return {.width = width,
          .greatest_points_per_m = 14,
          .longest_load = std::max(110.0, width / 4),
          .least_pantograph_scale = 9,
          .small_pt = 10};
}

/// Grown evenly to the least size, and within the picture.
Box large_enough(Box box, double width) {
  const double more_x = std::max(0.0, least_place_pt - box.width);
  const double more_y = std::max(0.0, least_place_pt - box.height);
  box = {box.x - more_x / 2, box.y - more_y / 2, box.width + more_x, box.height + more_y};
  box.x = std::clamp(box.x, 0.0, std::max(0.0, width - box.width));
  box.y = std::max(0.0, box.y);
  return box;
}

Box place_of_body(const Box& body, Point origin, double rail_y) {
  return {body.x + origin.x, body.y + origin.y, body.width, rail_y - body.y};
}

/// From the wire to a little below the roof, as wide as its arms reach; of two that stand close to
/// each other, no farther than half way.
Box place_of_pantograph(const TrainDrawing& drawing, std::size_t index, Point origin) {
  const DrawnPantograph& pantograph = drawing.pantographs[index];
  const double scale = drawing.heights.points_per_m;
  double left = pantograph.head.x - scale;
  double right = pantograph.head.x + scale;
  for (const Point& knuckle : pantograph.knuckles) {
    left = std::min(left, knuckle.x);
    right = std::max(right, knuckle.x);
  }
  if (index > 0) {
    left = std::max(left, (drawing.pantographs[index - 1].head.x + pantograph.head.x) / 2);
  }
  if (index + 1 < drawing.pantographs.size()) {
    right = std::min(right, (drawing.pantographs[index + 1].head.x + pantograph.head.x) / 2);
  }
  const double top = drawing.heights.wire;
  const double bottom = drawing.heights.roof + scale / 2;
  return {left + origin.x, top + origin.y, right - left, bottom - top};
}

std::vector<PicturePlace> places_of(const TrainDrawing& drawing, Point origin, double width) {
  std::vector<PicturePlace> places;
  for (const DrawnLoad& load : drawing.loads) {
    places.push_back({part_name(load), place_of_body(load.body, origin, drawing.rail_y)});
  }
  for (const DrawnVehicle& vehicle : drawing.vehicles) {
    places.push_back({part_name(vehicle), place_of_body(vehicle.body, origin, drawing.rail_y)});
  }
  for (std::size_t i = 0; i < drawing.pantographs.size(); ++i) {
    places.push_back({part_name(drawing.pantographs[i].ref),
                      large_enough(place_of_pantograph(drawing, i, origin), width)});
  }
  return places;
}

Picture picture_of(const TextSetter& setter, const Train& train, const ShownTrain& shown,
                   double width) {
  const Layout layout = lay_out(train, shown.reversed);
  const TrainDrawing drawing = arrange_train(setter, train, layout, shown.raised,
                                             shown.put_dead_in_tow, style_of(width - margin));
  const Point origin{margin, margin};
  Picture picture{.width = width,
                  .height = drawing.height + 2 * margin,
                  .told = train_told(train, shown, setter.words()),
                  .points_per_m = drawing.points_per_m,
                  .wire_y = drawing.heights.wire + origin.y,
                  .rail_y = drawing.rail_y + origin.y,
                  .places = places_of(drawing, origin, width),
                  .marks = {}};
  PictureCanvas canvas(picture);
  draw_train(canvas, drawing, origin, 0);
  return picture;
}

}  // namespace

ShownTrain shown_on(const PlannedSection& section) {
  return {.raised = section.raised,
          .put_dead_in_tow = section.put_dead_in_tow,
          .reversed = section.reversed};
}

Picture train_picture(const Train& train, const ShownTrain& shown, double width,
                      const Words& words) {
  return picture_of(TextSetter(words), train, shown, width);
}

TrainPictures train_pictures(const Plan& plan, double width) {
  const TextSetter setter(plan.words);
  TrainPictures all;
  std::vector<ShownTrain> seen;
  for (const PlannedSection& section : plan.sections) {
    ShownTrain shown = shown_on(section);
    const auto found = std::ranges::find(seen, shown);
    all.of_section.push_back(static_cast<std::size_t>(found - seen.begin()));
    if (found == seen.end()) {
      all.pictures.push_back(picture_of(setter, plan.train, shown, width));
      seen.push_back(std::move(shown));
    }
  }
  return all;
}

}  // namespace panup
