#include "stock/layout.h"

#include <algorithm>

namespace panup {

namespace {

void place_roof(Layout& layout, const Vehicle& vehicle, const PlacedItem& placed) {
  const Cab front_cab = placed.cab1_leads ? Cab::cab1 : Cab::cab2;
  for (const RoofPantograph& pantograph : vehicle.type->pantographs) {
    const double behind_front = placed.cab1_leads ? pantograph.from_cab1_m
                                                  : vehicle.type->length_m - pantograph.from_cab1_m;
    layout.pantographs.push_back(
        {.ref = {vehicle.number, pantograph.number},
         .from_front_m = placed.front_m + behind_front,
         .half = pantograph.nearer_cab == front_cab ? RoofHalf::front : RoofHalf::rear,
         .knuckle_leading = pantograph.knuckle_towards == front_cab,
         .defective =
             std::ranges::find(vehicle.defective, pantograph.number) != vehicle.defective.end(),
         .type = pantograph.type.get()});
  }
}

}  // namespace

Layout lay_out(const Train& train, bool reversed) {
  Layout layout{.reversed = reversed, .length_m = length_m(train), .items = {}, .pantographs = {}};
  double front = 0;
  for (std::size_t step = 0; step < train.consist.size(); ++step) {
    const std::size_t index = reversed ? train.consist.size() - 1 - step : step;
    const ConsistItem& item = train.consist[index];
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    PlacedItem placed{.consist_index = index, .front_m = front, .rear_m = front + length_m(item)};
    if (vehicle != nullptr) {
      placed.cab1_leads = (vehicle->leading_cab == Cab::cab1) != reversed;
      place_roof(layout, *vehicle, placed);
    }
    layout.items.push_back(placed);
    front = placed.rear_m;
  }
  std::ranges::stable_sort(layout.pantographs, {}, &PlacedPantograph::from_front_m);
  return layout;
}

}  // namespace panup
