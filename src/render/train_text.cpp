#include "render/train_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "stock/layout.h"
#include "wording/wording.h"

namespace panup {

namespace {

/// One vehicle or load of the sketch: three texts one above the other, as wide as the widest.
struct Cell {
  std::string up;
  std::string down;
  std::string body;
  std::size_t width = 0;
};

void place(Cell& cell, const PlacedPantograph& pantograph, bool up) {
  const std::string label = to_string(pantograph.ref) + (pantograph.defective ? "x" : "");
  const std::string blanks(columns_of(label), ' ');
  cell.up += (up ? label : blanks) + ' ';
  cell.down += (up ? blanks : label) + ' ';
}

constexpr std::size_t widest_body = 60;  ///< what is longer is told below the sketch

bool too_wide(const LoadGroup& load) { return columns_of(load.name) + 25 > widest_body; }

std::string body_of(const ConsistItem& item, const Words& words) {
  if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
    const bool told_below = columns_of(vehicle->id) + 25 > widest_body;
    const std::string id = told_below ? "" : fmt::format(" {}", plain(vehicle->id));
    return fmt::format("[ {}{}{} ]", vehicle->number, id,
                       vehicle->dead_in_tow ? words.say(", dead in tow") : "");
  }
  const auto& load = std::get<LoadGroup>(item);
  const std::string nature = load.nature == LoadNature::ordinary    ? ""
                             : load.nature == LoadNature::dangerous ? words.say(", DANGEROUS")
                                                                    : words.say(", SENSITIVE");
  return fmt::format("( {}{}, {} )", too_wide(load) ? words.say("load") : plain(load.name), nature,
                     metres(load.length_m, words));
}

std::vector<Cell> cells_of(const Train& train, const Layout& layout,
                           const std::vector<PantographRef>& raised, const Words& words) {
  std::vector<Cell> cells;
  for (const PlacedItem& placed : layout.items) {
    const ConsistItem& item = train.consist[placed.consist_index];
    Cell cell{.up = {}, .down = {}, .body = body_of(item, words), .width = 0};
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      cell.up = cell.down = "  ";
      for (const PlacedPantograph& pantograph : layout.pantographs) {
        if (pantograph.ref.vehicle == vehicle->number) {
          place(cell, pantograph, std::ranges::find(raised, pantograph.ref) != raised.end());
        }
      }
    }
    cell.width = std::max({columns_of(cell.up), columns_of(cell.down), columns_of(cell.body)});
    cells.push_back(std::move(cell));
  }
  return cells;
}

void write_row(const std::vector<Cell>& cells, std::size_t first, std::size_t last, bool at_front,
               const Words& words, std::string& out) {
  std::string up;
  std::string down;
  std::string body;
  const auto fill = [](std::string& line, const std::string& text, std::size_t width) {
    line += text + std::string(width - columns_of(text) + 1, ' ');
  };
  for (std::size_t i = first; i < last; ++i) {
    fill(up, cells[i].up, cells[i].width);
    fill(down, cells[i].down, cells[i].width);
    body += cells[i].body;
    if (i + 1 < cells.size()) {
      body += std::string(cells[i].width - columns_of(cells[i].body) + 1, '-');
    }
  }
  const auto write = [&out](std::string_view lead, const std::string& line) {
    const std::size_t end = line.find_last_not_of(' ');
    if (end != std::string::npos) {
      out.append(lead).append(line, 0, end + 1).append("\n");
    }
  };
  write(fmt::format("  {:<7}", words.say("up")), up);
  write(fmt::format("  {:<7}", words.say("down")), down);
  write(at_front ? "  <==    " : "    …    ", body);
}

std::string vehicle_words(const Vehicle& vehicle, const PlacedItem& placed, const Words& language) {
  std::string words =
      language.say("{}, {}, {}, {}, cab {} at the front", plain(vehicle.id),
                   plain(vehicle.type->name), language.named(name_of(vehicle.type->kind)),
                   metres(vehicle.type->length_m, language), placed.cab1_leads ? 1 : 2);
  if (vehicle.dead_in_tow) {
    words += language.say(", dead in tow");
  }
  std::vector<PantographRef> defective;
  for (const int number : vehicle.defective) {
    defective.push_back({vehicle.number, number});
  }
  if (!defective.empty()) {
    words += language.say(", defective: {}", list_words(defective, language));
  }
  return words;
}

}  // namespace

std::string train_to_text(const Train& train, const std::vector<PantographRef>& raised,
                          bool reversed, const Words& words) {
  const Layout layout = lay_out(train, reversed);
  const std::vector<Cell> cells = cells_of(train, layout, raised, words);
  constexpr std::size_t lead = 9;
  std::string out;
  std::size_t first = 0;
  while (first < cells.size()) {
    std::size_t last = first;
    std::size_t width = lead;
    while (last < cells.size() &&
           (last == first || width + cells[last].width + 1 <= text_columns)) {
      width += cells[last].width + 1;
      ++last;
    }
    write_row(cells, first, last, first == 0, words, out);
    first = last;
  }
  for (const PlacedItem& placed : layout.items) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&train.consist[placed.consist_index])) {
      out += hanging(fmt::format("  {:>2}  ", vehicle->number),
                     vehicle_words(*vehicle, placed, words), text_columns);
    } else if (const auto& load = std::get<LoadGroup>(train.consist[placed.consist_index]);
               too_wide(load)) {
      out += hanging("  " + words.say("load") + "  ", plain(load.name), text_columns);
    }
  }
  return out;
}

}  // namespace panup
