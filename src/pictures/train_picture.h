#pragma once

#include <cstddef>
#include <vector>

#include "drawing/picture.h"
#include "plan/plan.h"

namespace panup {

/// What of a train is to be seen.
struct ShownTrain {
  std::vector<PantographRef> raised;
  std::vector<int> put_dead_in_tow;  ///< vehicles that the plan puts dead in tow
  bool reversed = false;             ///< the train runs against its direction at departure
  friend bool operator==(const ShownTrain&, const ShownTrain&) = default;
};

/// What a section of a plan shows.
ShownTrain shown_on(const PlannedSection& section);

/// The train from the side under its wire, the front at the left, as on the card, in a picture of
/// that width. Marks belong to "wire", "vehicle 1" (as in `Vehicle::number`), "load 1" (counted
/// over loads in the order at departure), "pantograph 1.2", "direction" (arrow and word), "rail",
/// "couplings", "scale", "key" (what is meant by white on black) or "list" (vehicles and loads,
/// where there is no room for captions). Places are those of vehicles, loads and pantographs, the
/// latter with the part of the roof that they stand on, at least `least_place_pt` wide and high.
/// Type is 9 points at least. Made for widths from 300 points on.
Picture train_picture(const Train& train, const ShownTrain& shown, double width,
                      const Words& words = {});

inline constexpr double least_place_pt = 16;

/// A picture for each way the train is seen in on the plan's sections, and which one a section has.
struct TrainPictures {
  std::vector<Picture> pictures;
  std::vector<std::size_t> of_section;  ///< by section: index into `pictures`
};
TrainPictures train_pictures(const Plan& plan, double width);

}  // namespace panup
