#include "pictures/train_labels.h"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/text.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr double least_gap = 5;  // between two texts of a row

void move_down(TrainDrawing& drawing, double by) {
  drawing.heights.roof += by;
  drawing.heights.wire += by;
  drawing.rail_y += by;
  drawing.height += by;
  drawing.arrow.y += by;
  for (DrawnVehicle& vehicle : drawing.vehicles) {
    vehicle.body.y += by;
  }
  for (DrawnLoad& load : drawing.loads) {
    load.body.y += by;
  }
  for (DrawnPantograph& pantograph : drawing.pantographs) {
    pantograph.head.y += by;
    pantograph.foot.y += by;
    for (Point& knuckle : pantograph.knuckles) {
      knuckle.y += by;
    }
  }
}

/// The labels of the pantographs, each above its head, on as many levels as it takes; a leader runs
/// to those that do not sit on the wire.
void add_pantograph_names(const TextSetter& setter, TrainDrawing& drawing) {
  struct Label {
    std::string of;
    Text text;
    double left = 0;
    double right = 0;
    double x = 0;
    std::size_t level = 0;
    bool raised = false;
  };
  std::vector<Label> labels;
  std::vector<double> ends;  // right end of the last label on each level
  double height = 0;
  for (const DrawnPantograph& pantograph : drawing.pantographs) {
    Label label;
    label.of = part_name(pantograph.ref);
    label.raised = pantograph.raised;
    label.text = setter.set(to_string(pantograph.ref),
                            {.size_pt = pantograph.raised ? 10.5 : std::max(9.0, drawing.small_pt),
                             .weight = pantograph.raised ? FontWeight::bold : FontWeight::regular,
                             .struck = pantograph.defective});
    label.x = pantograph.head.x;
    const double half = label.text.width() / 2;
    label.left = std::max(0.0, label.x - half);
    label.right = label.left + 2 * half;
    while (label.level < ends.size() && ends[label.level] + least_gap + 1 > label.left) {
      ++label.level;
    }
    if (label.level == ends.size()) {
      ends.push_back(0);
    }
    ends[label.level] = label.right;
    height = std::max(height, label.text.height());
    labels.push_back(std::move(label));
  }
  if (labels.empty()) {
    return;
  }
  const double step = height + 3;
  move_down(drawing, step * static_cast<double>(ends.size()) + 1);
  for (Label& label : labels) {
    const double base = drawing.heights.wire - 3 - step * static_cast<double>(label.level);
    if (label.level > 0) {
      drawing.thin_lines.push_back(
          {label.of, {{label.x, base}, {label.x, drawing.heights.wire - 1.5}}});
    }
    drawing.texts.push_back({.of = label.of,
                             .text = label.text,
                             .at = {label.left, base - label.text.height()},
                             .on_black = label.raised});
  }
}

/// The vehicle's number in its body where that is high enough.
bool numbers_fit_bodies(const TrainDrawing& drawing) {
  return std::ranges::all_of(drawing.vehicles, [](const DrawnVehicle& vehicle) {
    return vehicle.body.height > 14 && vehicle.body.width > 30;
  });
}

void add_centred(TrainDrawing& drawing, const std::string& of, const Text& text, double x, double y,
                 bool framed = false) {
  drawing.texts.push_back({.of = of,
                           .text = text,
                           .at = {x - text.width() / 2, y},
                           .on_black = false,
                           .framed = framed});
}

/// "cab 1" and "cab 2" below the ends of each vehicle, the number between them or in the body.
/// False where the cabs find no room.
bool add_cabs_and_numbers(const TextSetter& setter, TrainDrawing& drawing, double y) {
  const bool in_body = numbers_fit_bodies(drawing);
  const Text cab1 = setter.set(setter.words().say("cab {}", 1), {.size_pt = drawing.small_pt});
  const Text cab2 = setter.set(setter.words().say("cab {}", 2), {.size_pt = drawing.small_pt});
  const double room = cab1.width() + cab2.width() + 3 * least_gap + (in_body ? 0 : 10);
  const bool cabs = std::ranges::all_of(
      drawing.vehicles, [room](const DrawnVehicle& vehicle) { return vehicle.body.width >= room; });
  for (const DrawnVehicle& vehicle : drawing.vehicles) {
    const double middle = vehicle.body.x + vehicle.body.width / 2;
    const Text number = setter.set(std::to_string(vehicle.number),
                                   {.size_pt = in_body ? 12.0 : 9.5, .weight = FontWeight::bold});
    if (in_body) {
      add_centred(drawing, part_name(vehicle), number, middle,
                  vehicle.body.y + (vehicle.body.height - number.height()) / 2, vehicle.dead);
    } else {
      add_centred(drawing, part_name(vehicle), number, middle, y - 1);
    }
    if (cabs) {
      const Text& front = vehicle.cab1_leads ? cab1 : cab2;
      const Text& rear = vehicle.cab1_leads ? cab2 : cab1;
      drawing.texts.push_back({.of = part_name(vehicle), .text = front, .at = {vehicle.body.x, y}});
      drawing.texts.push_back(
          {.of = part_name(vehicle), .text = rear, .at = {vehicle.body.right() - rear.width(), y}});
    }
  }
  return cabs;
}

std::string state_of(const DrawnVehicle& drawn, const Words& words) {
  return drawn.dead_by_plan ? words.say("goes dead in tow")
         : drawn.dead       ? words.say("dead in tow")
                            : std::string();
}

std::string name_and_length(const LoadGroup& load, const Words& words) {
  return plain(shortened(load.name, 160)) + ", " + metres(load.length_m, words);
}

std::string nature_word(LoadNature nature, const Words& words) {
  return nature == LoadNature::dangerous   ? words.say("DANGEROUS")
         : nature == LoadNature::sensitive ? words.say("SENSITIVE")
                                           : std::string();
}

/// Captions under each vehicle and load; false, and nothing added, where one would take more than
/// a few lines.
bool add_captions(const TextSetter& setter, const Train& train, const Layout& layout,
                  TrainDrawing& drawing, double y) {
  std::vector<PlacedText> captions;
  double bottom = y;
  std::size_t vehicle_index = 0;
  std::size_t load_index = 0;
  for (const PlacedItem& item : layout.items) {
    std::vector<TextSpan> spans;
    Box body;
    std::string of;
    if (const auto* const vehicle = std::get_if<Vehicle>(&train.consist[item.consist_index])) {
      const DrawnVehicle& drawn = drawing.vehicles[vehicle_index++];
      body = drawn.body;
      of = part_name(drawn);
      spans = {{plain(shortened(vehicle->id, 80)), {.size_pt = drawing.small_pt}}};
      if (drawn.dead) {
        spans.push_back({"\n" + state_of(drawn, setter.words()),
                         {.size_pt = drawing.small_pt, .weight = FontWeight::bold}});
      }
    } else {
      const DrawnLoad& drawn = drawing.loads[load_index++];
      body = drawn.body;
      of = part_name(drawn);
      spans = {
          {name_and_length(std::get<LoadGroup>(train.consist[item.consist_index]), setter.words()),
           {.size_pt = drawing.small_pt}}};
    }
    const Text caption = setter.set(spans, body.width - 2, TextAlign::centre);
    const double one_line = setter.set("0", {.size_pt = drawing.small_pt}).height();
    if (caption.height() > 3.5 * one_line) {
      return false;
    }
    bottom = std::max(bottom, y + caption.height());
    captions.push_back({.of = of, .text = caption, .at = {body.x + 1, y}});
  }
  std::ranges::move(captions, std::back_inserter(drawing.texts));
  drawing.height = bottom;
  return true;
}

/// The same as a list, where the drawing has no room for captions or cabs.
void add_list(const TextSetter& setter, const Train& train, const Layout& layout,
              TrainDrawing& drawing, double y, double width) {
  std::vector<TextSpan> spans;
  std::size_t vehicle_index = 0;
  std::size_t load_index = 0;
  for (const PlacedItem& item : layout.items) {
    if (!spans.empty()) {
      spans.push_back({"  ·  ", {.size_pt = drawing.small_pt}});
    }
    if (const auto* const vehicle = std::get_if<Vehicle>(&train.consist[item.consist_index])) {
      const DrawnVehicle& drawn = drawing.vehicles[vehicle_index++];
      spans.push_back({fmt::format("{}\u00a0", vehicle->number),
                       {.size_pt = drawing.small_pt, .weight = FontWeight::bold}});
      spans.push_back(
          {setter.words().say("{}, cab\u00a0{} ahead", plain(shortened(vehicle->id, 80)),
                              item.cab1_leads ? 1 : 2) +
               (drawn.dead ? ", " : "") + state_of(drawn, setter.words()),
           {.size_pt = drawing.small_pt}});
    } else {
      const auto& load = std::get<LoadGroup>(train.consist[item.consist_index]);
      const std::string of = part_name(drawing.loads[load_index]);
      const Box& body = drawing.loads[load_index].body;
      const std::string key = fmt::format("{}", static_cast<char>('A' + load_index % 26));
      ++load_index;
      add_centred(drawing, of,
                  setter.set(key, {.size_pt = drawing.small_pt, .weight = FontWeight::bold}),
                  body.x + body.width / 2, drawing.rail_y + 2);
      const std::string nature = nature_word(load.nature, setter.words());
      spans.push_back({key + "\u00a0", {.size_pt = drawing.small_pt, .weight = FontWeight::bold}});
      spans.push_back({name_and_length(load, setter.words()) + (nature.empty() ? "" : ", "),
                       {.size_pt = drawing.small_pt}});
      spans.push_back({nature, {.size_pt = drawing.small_pt, .weight = FontWeight::bold}});
    }
  }
  const Text list = setter.set(spans, width);
  drawing.texts.push_back({.of = "list", .text = list, .at = {0, y}});
  drawing.height = y + list.height();
}

/// The word for a load to be protected, framed, in its body; false where one finds no room.
bool add_natures(const TextSetter& setter, TrainDrawing& drawing) {
  std::vector<PlacedText> words;
  for (const DrawnLoad& load : drawing.loads) {
    if (load.nature == LoadNature::ordinary) {
      continue;
    }
    const Text word = setter.set(nature_word(load.nature, setter.words()),
                                 {.size_pt = 9, .weight = FontWeight::bold});
    if (word.width() + 30 > load.body.width) {
      return false;
    }
    words.push_back({.of = part_name(load),
                     .text = word,
                     .at = {load.body.x + 8, load.body.y + (load.body.height - word.height()) / 2},
                     .on_black = false,
                     .framed = true});
  }
  std::ranges::move(words, std::back_inserter(drawing.texts));
  return true;
}

void add_key(const TextSetter& setter, TrainDrawing& drawing, double y) {
  const bool defective = std::ranges::any_of(drawing.pantographs, &DrawnPantograph::defective);
  const Text words = setter.set(
      defective ? setter.words().say("In a filled box: up. Crossed out: defective, stays down.")
                : setter.words().say("In a filled box: up."),
      {.size_pt = drawing.small_pt});
  drawing.texts.push_back({.of = "key", .text = words, .at = {0, y}});
}

void add_scale(const TextSetter& setter, TrainDrawing& drawing, double right, double y) {
  const double length_m = drawing.points_per_m * 20 <= 100 ? 20 : 10;
  const double length = length_m * drawing.points_per_m;
  const Text words =
      setter.set(setter.words().say("{:g} m", length_m), {.size_pt = drawing.small_pt});
  const double left = right - length - words.width() - 6;
  const double middle = y + words.height() / 2;
  drawing.thin_lines.push_back({"scale", {{left, middle - 2.5}, {left, middle + 2.5}}});
  drawing.thin_lines.push_back({"scale", {{left, middle}, {left + length, middle}}});
  drawing.thin_lines.push_back(
      {"scale", {{left + length, middle - 2.5}, {left + length, middle + 2.5}}});
  drawing.texts.push_back({.of = "scale", .text = words, .at = {left + length + 5, y}});
}

}  // namespace

void add_labels(const TextSetter& setter, const Train& train, const Layout& layout,
                const TrainDrawingStyle& style, TrainDrawing& drawing) {
  add_pantograph_names(setter, drawing);
  const double row = drawing.rail_y + 2;
  const Text travel = setter.set(setter.words().say("travel"), {.size_pt = drawing.small_pt});
  drawing.texts.push_back({.of = "direction", .text = travel, .at = {0, row}});
  const bool natures = add_natures(setter, drawing);
  const bool cabs = add_cabs_and_numbers(setter, drawing, row);
  const double below = row + travel.height() + 1;
  if (!natures || !cabs || !add_captions(setter, train, layout, drawing, below)) {
    add_list(setter, train, layout, drawing, below + 2, style.width);
  }
  add_scale(setter, drawing, style.width, drawing.height + 2);
  add_key(setter, drawing, drawing.height + 2);
  drawing.height += travel.height() + 4;
  drawing.width = std::max(drawing.width, style.width);
}

void add_numbers(const TextSetter& setter, TrainDrawing& drawing) {
  double end = 0;
  double height = 0;
  for (const DrawnVehicle& vehicle : drawing.vehicles) {
    const Text number = setter.set(std::to_string(vehicle.number),
                                   {.size_pt = drawing.small_pt, .weight = FontWeight::bold});
    const double left = vehicle.body.x + (vehicle.body.width - number.width()) / 2;
    if (left < end + 2) {
      continue;
    }
    drawing.texts.push_back(
        {.of = part_name(vehicle), .text = number, .at = {left, drawing.rail_y}});
    end = left + number.width();
    height = number.height();
  }
  drawing.height += height;
}

}  // namespace panup
