#include "pictures/train_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pictures/train_labels.h"

namespace panup {

namespace {

// Heights above rail, in metres, of stock that never was built.
constexpr double wire_m = 6.1;
constexpr double roof_m = 3.9;
constexpr double load_top_m = 3.5;
constexpr double floor_m = 1.05;
constexpr double wheel_m = 0.46;     // radius
constexpr double bogie_m = 3.4;      // middle of the outer bogies to the end of the vehicle
constexpr double wheelbase_m = 1.3;  // half of a bogie's
constexpr double gap_m = 0.45;       // body to the end of the vehicle

constexpr double thin = 0.5;
constexpr double medium = 0.9;
constexpr double arrow_room = 34;  // left of the train
constexpr double small_arrow_room = 16;

/// The drawn length of each item, in points, and the scale that makes them fit.
struct Lengths {
  double points_per_m = 0;
  std::vector<double> items;
};

Lengths lengths_of(const Train& train, const Layout& layout, const TrainDrawingStyle& style,
                   double room) {
  std::size_t loads = 0;
  double vehicles_m = 0;
  for (const PlacedItem& item : layout.items) {
    if (std::holds_alternative<LoadGroup>(train.consist[item.consist_index])) {
      ++loads;
    } else {
      vehicles_m += item.rear_m - item.front_m;
    }
  }
  // Where there are many loads, together they get no more than half of the room.
  double longest = loads == 0 ? style.longest_load
                              : std::min(style.longest_load, room / 2 / static_cast<double>(loads));
  const auto total_at = [&](double scale) {
    double total = 0;
    for (const PlacedItem& item : layout.items) {
      const double length = scale * (item.rear_m - item.front_m);
      const bool load = std::holds_alternative<LoadGroup>(train.consist[item.consist_index]);
      total += load ? std::min(length, longest) : length;
    }
    return total;
  };
  Lengths lengths{.points_per_m = style.greatest_points_per_m, .items = {}};
  if (total_at(lengths.points_per_m) > room) {
    const double all_broken = vehicles_m > 0
                                  ? (room - longest * static_cast<double>(loads)) / vehicles_m
                                  : lengths.points_per_m;
    // With every load shortened it fits; loads short by nature leave room for a larger scale.
    double low = std::min(all_broken, lengths.points_per_m);
    double high = lengths.points_per_m;
    for (int step = 0; step < 30; ++step) {
      const double middle = (low + high) / 2;
      (total_at(middle) > room ? high : low) = middle;
    }
    lengths.points_per_m = low;
  }
  const double spare = room - total_at(lengths.points_per_m);
  if (loads > 0 && spare > 0) {
    longest += std::min(spare / static_cast<double>(loads), style.longest_load);
  }
  for (const PlacedItem& item : layout.items) {
    const double length = lengths.points_per_m * (item.rear_m - item.front_m);
    const bool load = std::holds_alternative<LoadGroup>(train.consist[item.consist_index]);
    lengths.items.push_back(load ? std::min(length, longest) : length);
  }
  return lengths;
}

/// How far along the roof a pantograph reaches towards its neighbour ahead or behind, in metres.
double reach_m(const PlacedPantograph& placed, bool ahead) {
  constexpr double arm_m = 1.6;
  constexpr double half_head_m = 0.4;
  const bool towards =
      placed.type->frame == PantographFrame::diamond || placed.knuckle_leading == ahead;
  return towards ? arm_m : half_head_m;
}

/// As large as wanted, unless neighbours on a roof would then stand in each other.
double pantograph_scale_of(const Layout& layout, double train_scale, double wanted) {
  double scale = wanted;
  for (std::size_t i = 1; i < layout.pantographs.size(); ++i) {
    const PlacedPantograph& ahead = layout.pantographs[i - 1];
    const PlacedPantograph& behind = layout.pantographs[i];
    const double distance = (behind.from_front_m - ahead.from_front_m) * train_scale;
    if (ahead.ref.vehicle == behind.ref.vehicle) {
      scale = std::min(scale, distance / (reach_m(ahead, false) + reach_m(behind, true)));
    }
  }
  return std::max(train_scale, scale);
}

void add_pantographs(TrainDrawing& drawing, const Layout& layout, const PlacedItem& item,
                     int vehicle_number, double item_x, const std::vector<PantographRef>& raised) {
  for (const PlacedPantograph& placed : layout.pantographs) {
    if (placed.ref.vehicle == vehicle_number) {
      const bool up = std::ranges::find(raised, placed.ref) != raised.end();
      const double x = item_x + (placed.from_front_m - item.front_m) * drawing.points_per_m;
      drawing.pantographs.push_back(arrange_pantograph(placed, up, x, drawing.heights));
    }
  }
}

int load_number(const Train& train, std::size_t consist_index) {
  const auto end = train.consist.begin() + static_cast<std::ptrdiff_t>(consist_index) + 1;
  return static_cast<int>(std::count_if(train.consist.begin(), end, [](const ConsistItem& item) {
    return std::holds_alternative<LoadGroup>(item);
  }));
}

void draw_bogie(Canvas& canvas, double middle, double rail_y, double scale) {
  const double radius = wheel_m * scale;
  for (const double side : {-wheelbase_m, wheelbase_m}) {
    canvas.circle({middle + side * scale, rail_y - radius}, radius, {.width = thin});
  }
}

void draw_vehicle(Canvas& canvas, const DrawnVehicle& vehicle, Point origin, double rail_y,
                  double scale) {
  const PartOf part(canvas, part_name(vehicle));
  Box body = vehicle.body;
  body.x += origin.x;
  body.y += origin.y;
  // The sloping fronts say that both ends have a cab.
  const double slope = std::min(0.9 * scale, body.width / 6);
  const double shoulder = body.height * 0.45;
  const std::vector<Point> outline{
      {body.x + slope, body.y},          {body.right() - slope, body.y},
      {body.right(), body.y + shoulder}, {body.right(), body.bottom()},
      {body.x, body.bottom()},           {body.x, body.y + shoulder}};
  canvas.fill(outline, Ink::white);
  if (vehicle.dead) {
    canvas.hatch({body.x + slope, body.y, body.width - 2 * slope, body.height}, 3, {.width = thin});
  }
  canvas.polyline(outline, {.width = medium}, true);
  for (const double bogie :
       {body.x + (bogie_m - gap_m) * scale, body.right() - (bogie_m - gap_m) * scale}) {
    draw_bogie(canvas, bogie, origin.y + rail_y, scale);
  }
}

void draw_load(Canvas& canvas, const DrawnLoad& load, Point origin, double rail_y, double scale) {
  const PartOf part(canvas, part_name(load));
  Box body = load.body;
  body.x += origin.x;
  body.y += origin.y;
  canvas.frame(body, {.width = thin});
  // A break stands in front of the last wagon's rear; the bogies keep clear of it.
  const double break_x = body.right() - std::min(body.width * 0.14, 16.0);
  const double bogie_half = (wheelbase_m + wheel_m) * scale;
  const double last =
      load.shortened ? break_x - bogie_half - 4 : body.right() - (bogie_m - gap_m) * scale;
  const double first = body.x + (bogie_m - gap_m) * scale;
  draw_bogie(canvas, first, origin.y + rail_y, scale);
  if (last - first > 2 * bogie_half + 1) {
    draw_bogie(canvas, last, origin.y + rail_y, scale);
  }
  if (!load.shortened) {
    return;
  }
  // The break mark: two slanting lines, the paper between them white from roof to rail.
  const double x = break_x;
  const double lean = 2.5;
  const double gap = 3.5;
  const double top = body.y - 2;
  const double bottom = origin.y + rail_y - 1;
  canvas.fill(
      {{x + lean, top}, {x + lean + gap, top}, {x - lean + gap, bottom}, {x - lean, bottom}},
      Ink::white);
  canvas.line({x + lean, top}, {x - lean, bottom}, {.width = thin});
  canvas.line({x + lean + gap, top}, {x - lean + gap, bottom}, {.width = thin});
}

void draw_arrow(Canvas& canvas, Box box, Point origin) {
  const PartOf part(canvas, "direction");
  box.x += origin.x;
  box.y += origin.y;
  const double middle = box.y + box.height / 2;
  const double shaft = box.height / 5;
  const double neck = box.x + std::min(box.height * 0.75, box.width * 0.6);
  canvas.fill({{box.x, middle},
               {neck, box.y},
               {neck, middle - shaft},
               {box.right(), middle - shaft},
               {box.right(), middle + shaft},
               {neck, middle + shaft},
               {neck, box.bottom()}});
}

void draw_text(Canvas& canvas, const PlacedText& placed, Point origin) {
  const PartOf part(canvas, placed.of);
  const Point at{placed.at.x + origin.x, placed.at.y + origin.y};
  const Box around{at.x - 2, at.y, placed.text.width() + 4, placed.text.height()};
  if (placed.on_black) {
    canvas.fill(around);
  } else if (placed.framed) {
    canvas.fill(around, Ink::white);
    canvas.frame(around, {.width = medium});
  }
  canvas.text(placed.text, at, placed.on_black ? Ink::white : Ink::black);
}

}  // namespace

std::string part_name(const DrawnVehicle& vehicle) {
  return fmt::format("vehicle {}", vehicle.number);
}

std::string part_name(const DrawnLoad& load) { return fmt::format("load {}", load.number); }

std::string part_name(PantographRef pantograph) { return "pantograph " + to_string(pantograph); }

TrainDrawing arrange_train(const TextSetter& setter, const Train& train, const Layout& layout,
                           const std::vector<PantographRef>& raised,
                           const std::vector<int>& put_dead, const TrainDrawingStyle& style) {
  const double front_room = style.labelled ? arrow_room : small_arrow_room;
  const Lengths lengths = lengths_of(train, layout, style, style.width - front_room - 4);
  const double scale = lengths.points_per_m;
  const double pantograph_scale = pantograph_scale_of(layout, scale, style.least_pantograph_scale);
  const double roof_to_wire = (wire_m - roof_m) * pantograph_scale;
  TrainDrawing drawing;
  drawing.points_per_m = scale;
  drawing.wire_weight = style.wire_weight;
  drawing.small_pt = style.small_pt;
  // For now the wire is at the top; labels above it move everything down.
  drawing.heights = {.roof = roof_to_wire, .wire = 0, .points_per_m = pantograph_scale};
  drawing.rail_y = roof_to_wire + roof_m * scale;
  double x = front_room;
  for (std::size_t i = 0; i < layout.items.size(); ++i) {
    const PlacedItem& item = layout.items[i];
    const double inset = std::min(gap_m * scale, lengths.items[i] / 8);
    const double top_m =
        std::holds_alternative<Vehicle>(train.consist[item.consist_index]) ? roof_m : load_top_m;
    const Box body{x + inset, drawing.rail_y - top_m * scale, lengths.items[i] - 2 * inset,
                   (top_m - floor_m) * scale};
    if (const auto* const vehicle = std::get_if<Vehicle>(&train.consist[item.consist_index])) {
      const bool by_plan = std::ranges::find(put_dead, vehicle->number) != put_dead.end();
      drawing.vehicles.push_back({.number = vehicle->number,
                                  .body = body,
                                  .dead = vehicle->dead_in_tow || by_plan,
                                  .dead_by_plan = by_plan,
                                  .cab1_leads = item.cab1_leads});
      add_pantographs(drawing, layout, item, vehicle->number, x, raised);
    } else {
      drawing.loads.push_back(
          {.number = load_number(train, item.consist_index),
           .body = body,
           .shortened = lengths.items[i] < scale * (item.rear_m - item.front_m) - 0.01,
           .nature = std::get<LoadGroup>(train.consist[item.consist_index]).nature});
    }
    x += lengths.items[i];
  }
  drawing.rear_x = x;
  drawing.width = x + 4;
  const double arrow_height = std::clamp(2.6 * scale, 7.0, 16.0);
  drawing.arrow = {0, drawing.rail_y - roof_m * scale / 2 - arrow_height / 2, front_room - 6,
                   arrow_height};
  drawing.height = drawing.rail_y + 1;
  if (style.labelled) {
    add_labels(setter, train, layout, style, drawing);
  } else {
    add_numbers(setter, drawing);
  }
  return drawing;
}

void draw_train(Canvas& canvas, const TrainDrawing& drawing, Point origin, double wire_from_x) {
  const double wire_y = origin.y + drawing.heights.wire;
  const double rail_y = origin.y + drawing.rail_y;
  const double scale = drawing.points_per_m;
  const double middle_y = wire_y - drawing.wire_weight / 2;
  {
    const PartOf part(canvas, "wire");
    canvas.line({wire_from_x, middle_y}, {origin.x + drawing.width, middle_y},
                {.width = drawing.wire_weight});
  }
  const double first = drawing.arrow.right() + origin.x + 2;
  {
    const PartOf part(canvas, "rail");
    canvas.line({first, rail_y}, {origin.x + drawing.width, rail_y}, {.width = thin});
  }
  {
    const PartOf part(canvas, "couplings");
    const double coupling_y = rail_y - floor_m * scale;
    canvas.line({first + 4 + gap_m * scale, coupling_y},
                {origin.x + drawing.rear_x - gap_m * scale, coupling_y}, {.width = thin});
  }
  for (const DrawnLoad& load : drawing.loads) {
    draw_load(canvas, load, origin, drawing.rail_y, scale);
  }
  for (const DrawnVehicle& vehicle : drawing.vehicles) {
    draw_vehicle(canvas, vehicle, origin, drawing.rail_y, scale);
  }
  for (const ThinLine& line : drawing.thin_lines) {
    const PartOf part(canvas, line.of);
    std::vector<Point> moved = line.points;
    for (Point& point : moved) {
      point.x += origin.x;
      point.y += origin.y;
    }
    canvas.polyline(moved, {.width = thin});
  }
  // Lowered ones first: a raised arm passes in front of a folded neighbour.
  for (const bool raised : {false, true}) {
    for (const DrawnPantograph& pantograph : drawing.pantographs) {
      if (pantograph.raised == raised) {
        const PartOf part(canvas, part_name(pantograph.ref));
        draw_pantograph(canvas, pantograph, origin, drawing.heights);
      }
    }
  }
  draw_arrow(canvas, drawing.arrow, origin);
  for (const PlacedText& text : drawing.texts) {
    draw_text(canvas, text, origin);
  }
}

}  // namespace panup
