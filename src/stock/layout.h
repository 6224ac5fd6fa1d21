#pragma once

#include <vector>

#include "stock/train.h"

namespace panup {

enum class RoofHalf : std::uint8_t { front, rear };

/// A pantograph of the train as it runs: seen in the direction of travel.
struct PlacedPantograph {
  PantographRef ref;
  double from_front_m = 0;       ///< collector head behind the front of the train
  RoofHalf half{};               ///< half of its own vehicle, by direction of travel
  bool knuckle_leading = false;  ///< single-arm only: the knuckle points in the direction of travel
  bool defective = false;
  const PantographType* type = nullptr;
};

/// A vehicle or load group of the train as it runs.
struct PlacedItem {
  std::size_t consist_index = 0;
  double front_m = 0;      ///< its front end behind the front of the train
  double rear_m = 0;       ///< its rear end behind the front of the train
  bool cab1_leads = true;  ///< vehicles only
};

/// The train laid out in its direction of travel, front first.
struct Layout {
  bool reversed = false;  ///< against the direction at departure
  double length_m = 0;
  std::vector<PlacedItem> items;              ///< front first
  std::vector<PlacedPantograph> pantographs;  ///< front first, all vehicles, dead ones included
};

/// Lays the train out. `reversed` turns front into rear: order, cabs, halves and knuckles.
/// The layout points into `train`, which must outlive it.
Layout lay_out(const Train& train, bool reversed);

}  // namespace panup
