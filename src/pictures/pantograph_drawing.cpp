#include "pictures/pantograph_drawing.h"

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

// Dimensions of a pantograph that never was built, in metres; a drawing of 1:150 shows no more.
constexpr double single_arm_m = 1.5;     // each of the two arms of a single-arm frame
constexpr double diamond_arm_m = 1.3;    // each of the four arms of a diamond
constexpr double insulator_m = 0.25;     // foot above the roof
constexpr double folded_height_m = 0.3;  // head above the foot when down
constexpr double head_m = 0.75;          // collector head along the train
constexpr double strip_m = 0.09;         // height of a contact strip

constexpr double heavy_line = 1.3;
constexpr double thin_line = 0.5;

Point moved(Point point, Point by) { return {point.x + by.x, point.y + by.y}; }

/// How far the knuckle stands out where two arms of equal length bridge `height`.
double reach_of(double arm, double height) {
  return std::sqrt(std::max(0.0, arm * arm - height * height / 4));
}

void draw_head(Canvas& canvas, const DrawnPantograph& pantograph, Point head, double scale,
               double weight) {
  const double strip = std::max(strip_m * scale, 0.8);
  const double carrier_y = head.y + strip;
  const double half = pantograph.head_length / 2;
  canvas.line({head.x - half, carrier_y}, {head.x + half, carrier_y}, {.width = weight});
  // Seen from the side a contact strip is a small block; one strip sits in the middle.
  const int count = std::min(pantograph.strip_count, 4);
  const double block = std::max(0.16 * scale, 0.9);
  for (int i = 0; i < count; ++i) {
    const double at = count == 1 ? head.x
                                 : head.x - half + block / 2 +
                                       (2 * half - block) * i / static_cast<double>(count - 1);
    canvas.fill(Box{at - block / 2, head.y, block, strip});
  }
}

}  // namespace

DrawnPantograph arrange_pantograph(const PlacedPantograph& placed, bool raised, double x,
                                   const RoofHeights& heights) {
  const double scale = heights.points_per_m;
  DrawnPantograph drawn{.ref = placed.ref,
                        .raised = raised,
                        .defective = placed.defective,
                        .frame = placed.type->frame,
                        .strip_count = placed.type->strip_count,
                        .head = {},
                        .foot = {},
                        .knuckles = {},
                        .head_length = head_m * scale};
  drawn.foot = {x, heights.roof - insulator_m * scale};
  drawn.head = {x, raised ? heights.wire : drawn.foot.y - folded_height_m * scale};
  const double height = drawn.foot.y - drawn.head.y;
  const double knuckle_y = drawn.foot.y - height / 2;
  if (drawn.frame == PantographFrame::diamond) {
    const double reach = reach_of(diamond_arm_m * scale, height);
    drawn.knuckles = {{x - reach, knuckle_y}, {x + reach, knuckle_y}};
  } else {
    // The front of the train is at the left: a leading knuckle points there.
    const double reach = reach_of(single_arm_m * scale, height);
    drawn.knuckles = {{placed.knuckle_leading ? x - reach : x + reach, knuckle_y}};
  }
  return drawn;
}

void draw_pantograph(Canvas& canvas, const DrawnPantograph& pantograph, Point origin,
                     const RoofHeights& heights) {
  const double scale = heights.points_per_m;
  const double weight = pantograph.raised ? heavy_line : thin_line;
  const Point head = moved(pantograph.head, origin);
  const Point foot = moved(pantograph.foot, origin);
  const double roof_y = heights.roof + origin.y;
  for (const double side : {-0.45, 0.45}) {
    canvas.line({foot.x + side * scale, roof_y}, {foot.x + side * scale, foot.y},
                {.width = thin_line});
  }
  canvas.line({foot.x - 0.6 * scale, foot.y}, {foot.x + 0.6 * scale, foot.y}, {.width = weight});
  const double strip = std::max(strip_m * scale, 0.8);
  const Point below_head{head.x, head.y + strip};
  for (const Point& knuckle : pantograph.knuckles) {
    canvas.polyline({foot, moved(knuckle, origin), below_head}, {.width = weight});
  }
  draw_head(canvas, pantograph, head, scale, weight);
  if (pantograph.defective) {
    const double arm = std::max(0.9 * scale, 4.0);
    const Point middle{head.x, (head.y + foot.y) / 2};
    canvas.line({middle.x - arm, middle.y - arm}, {middle.x + arm, middle.y + arm}, {.width = 1});
    canvas.line({middle.x - arm, middle.y + arm}, {middle.x + arm, middle.y - arm}, {.width = 1});
  }
}

}  // namespace panup
