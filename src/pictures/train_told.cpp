#include "pictures/train_told.h"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/text.h"
#include "stock/layout.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::string pantograph_words(const PlacedPantograph& placed, bool raised) {
  const std::string knuckle = placed.type->frame == PantographFrame::diamond ? ""
                              : placed.knuckle_leading                       ? ", knuckle leading"
                                                                             : ", knuckle trailing";
  return fmt::format("{} is {} ({}{})", to_string(placed.ref),
                     placed.defective ? raised ? "defective and up" : "defective and stays down"
                     : raised         ? "up"
                                      : "down",
                     name_of(placed.type->frame), knuckle);
}

std::string vehicle_words(const Vehicle& vehicle, const PlacedItem& item, const Layout& layout,
                          const ShownTrain& shown) {
  const bool by_plan =
      std::ranges::find(shown.put_dead_in_tow, vehicle.number) != shown.put_dead_in_tow.end();
  std::string text = fmt::format("Vehicle {}: {}, cab {} ahead{}", vehicle.number,
                                 plain(vehicle.id), item.cab1_leads ? 1 : 2,
                                 by_plan               ? ", goes dead in tow"
                                 : vehicle.dead_in_tow ? ", dead in tow"
                                                       : "");
  bool first = true;
  for (const PlacedPantograph& placed : layout.pantographs) {
    if (placed.ref.vehicle == vehicle.number) {
      const bool raised = std::ranges::find(shown.raised, placed.ref) != shown.raised.end();
      text += (first ? "; " : ", ") + pantograph_words(placed, raised);
      first = false;
    }
  }
  return text + ".";
}

std::string load_words(const LoadGroup& load) {
  return fmt::format(
      "Load: {}, {}{}.", plain(load.name), metres(load.length_m),
      load.nature == LoadNature::ordinary ? "" : fmt::format(", {}", name_of(load.nature)));
}

}  // namespace

std::string train_told(const Train& train, const ShownTrain& shown) {
  const Layout layout = lay_out(train, shown.reversed);
  std::string text = "The train from the side, its front at the left. ";
  text += shown.raised.empty() ? "No pantograph is up."
                               : fmt::format("Up: {}.", list_words(shown.raised));
  for (const PlacedItem& item : layout.items) {
    const ConsistItem& one = train.consist[item.consist_index];
    text += ' ';
    if (const auto* const vehicle = std::get_if<Vehicle>(&one)) {
      text += vehicle_words(*vehicle, item, layout, shown);
    } else {
      text += load_words(std::get<LoadGroup>(one));
    }
  }
  return text;
}

}  // namespace panup
