#include "pictures/train_told.h"

#include <algorithm>

#include "drawing/text.h"
#include "stock/layout.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::string state_words(const PlacedPantograph& placed, bool raised, const Words& words) {
  if (placed.defective) {
    return raised ? words.say("defective and up") : words.say("defective and stays down");
  }
  return raised ? words.say("up") : words.say("down");
}

std::string pantograph_words(const PlacedPantograph& placed, bool raised, const Words& words) {
  const std::string name = to_string(placed.ref);
  const std::string state = state_words(placed, raised, words);
  const std::string frame = words.named(name_of(placed.type->frame));
  return placed.type->frame == PantographFrame::diamond
             ? words.say("{} is {} ({})", name, state, frame)
         : placed.knuckle_leading
             ? words.say("{} is {} ({}, knuckle leading)", name, state, frame)
             : words.say("{} is {} ({}, knuckle trailing)", name, state, frame);
}

std::string vehicle_words(const Vehicle& vehicle, const PlacedItem& item, const Layout& layout,
                          const ShownTrain& shown, const Words& words) {
  const bool by_plan =
      std::ranges::find(shown.put_dead_in_tow, vehicle.number) != shown.put_dead_in_tow.end();
  std::string text = words.say("Vehicle {}: {}, cab {} ahead", vehicle.number, plain(vehicle.id),
                               item.cab1_leads ? 1 : 2);
  text += by_plan               ? words.say(", goes dead in tow")
          : vehicle.dead_in_tow ? words.say(", dead in tow")
                                : std::string();
  bool first = true;
  for (const PlacedPantograph& placed : layout.pantographs) {
    if (placed.ref.vehicle == vehicle.number) {
      const bool raised = std::ranges::find(shown.raised, placed.ref) != shown.raised.end();
      text += (first ? "; " : ", ") + pantograph_words(placed, raised, words);
      first = false;
    }
  }
  return text + ".";
}

std::string load_words(const LoadGroup& load, const Words& words) {
  const std::string length = metres(load.length_m, words);
  return load.nature == LoadNature::ordinary ? words.say("Load: {}, {}.", plain(load.name), length)
                                             : words.say("Load: {}, {}, {}.", plain(load.name),
                                                         length, words.named(name_of(load.nature)));
}

}  // namespace

std::string train_told(const Train& train, const ShownTrain& shown, const Words& words) {
  const Layout layout = lay_out(train, shown.reversed);
  std::string text = words.say("The train from the side, its front at the left. ");
  text += shown.raised.empty() ? words.say("No pantograph is up.")
                               : words.say("Up: {}.", list_words(shown.raised, words));
  for (const PlacedItem& item : layout.items) {
    const ConsistItem& one = train.consist[item.consist_index];
    text += ' ';
    if (const auto* const vehicle = std::get_if<Vehicle>(&one)) {
      text += vehicle_words(*vehicle, item, layout, shown, words);
    } else {
      text += load_words(std::get<LoadGroup>(one), words);
    }
  }
  return text;
}

}  // namespace panup
