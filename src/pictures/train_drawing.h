#pragma once
/// The room `pictures`: the train under its wire, and a separation section as the train passes it,
/// drawn once for card, report and page.

#include <string>
#include <vector>

#include "drawing/canvas.h"
#include "pictures/pantograph_drawing.h"
#include "stock/layout.h"

namespace panup {

/// Weight of the contact wire, above a train and as the spine of a strip.
inline constexpr double wire_weight = 1.4;

/// How a train is to be drawn.
struct TrainDrawingStyle {
  double width = 400;  ///< room for the whole drawing, in points
  double greatest_points_per_m = 8;
  double longest_load = 110;  ///< a load drawn longer than this is shortened, with a break mark
  /// Pantographs are drawn at this scale at least, in points to a metre, where they stand far
  /// enough apart: on a long train they would be too small to tell up from down.
  double least_pantograph_scale = 6;
  double wire_weight = panup::wire_weight;
  double small_pt = 8.5;  ///< size of the smallest type
  bool labelled = true;   ///< names of pantographs, vehicles and loads, cabs, scale
};

struct DrawnVehicle {
  int number = 0;
  Box body;
  bool dead = false;          ///< in tow, by the train file or by the plan
  bool dead_by_plan = false;  ///< by the plan
  bool cab1_leads = true;
};

struct DrawnLoad {
  int number = 0;  ///< counted over loads in the order of the consist, from 1
  Box body;
  bool shortened = false;
  LoadNature nature{};
};

/// A text in its place.
struct PlacedText {
  std::string of;  ///< what it names or explains, as in "vehicle 1"
  Text text;
  Point at;
  bool on_black = false;  ///< white, in a black box
  bool framed = false;    ///< in a frame
};

/// A leader of a label, or a line of the scale bar.
struct ThinLine {
  std::string of;
  std::vector<Point> points;
};

/// A train seen from the side, the front at the left, under its contact wire: vehicles and short
/// loads to scale, pantographs raised to the wire or folded. All places are relative to its upper
/// left corner.
struct TrainDrawing {
  double width = 0;
  double rear_x = 0;  ///< rear end of the train
  double height = 0;
  double points_per_m = 0;
  double rail_y = 0;
  double wire_weight = 0;
  double small_pt = 0;  ///< size of the smallest type
  RoofHeights heights;
  std::vector<DrawnVehicle> vehicles;
  std::vector<DrawnLoad> loads;
  std::vector<DrawnPantograph> pantographs;
  std::vector<PlacedText> texts;
  std::vector<ThinLine> thin_lines;
  Box arrow;  ///< points in the direction of travel
};

/// Places everything. `raised` is up; `put_dead` are the vehicles that the plan puts dead in tow.
TrainDrawing arrange_train(const TextSetter& setter, const Train& train, const Layout& layout,
                           const std::vector<PantographRef>& raised,
                           const std::vector<int>& put_dead, const TrainDrawingStyle& style);

/// What marks belong to, as `Canvas` takes it: "vehicle 1", "load 1", "pantograph 1.2".
std::string part_name(const DrawnVehicle& vehicle);
std::string part_name(const DrawnLoad& load);
std::string part_name(PantographRef pantograph);

/// Draws it with its upper left corner at `origin`. The wire runs over its whole width, from
/// `wire_from_x` on the sheet.
void draw_train(Canvas& canvas, const TrainDrawing& drawing, Point origin, double wire_from_x);

}  // namespace panup
