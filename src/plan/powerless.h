#pragma once

#include <string>
#include <vector>

#include "plan/orders.h"
#include "plan/planning_case.h"

namespace panup {

/// A separation section or lowered stretch that is passed without power.
struct PassedWithoutPower {
  std::string name;
  double from_km = 0;  ///< where a collector head may first touch it
  double to_km = 0;
};

/// A stretch that the train runs without power, by its orders. Places: front of the train.
struct PowerlessStretch {
  double off_km = 0;     ///< breaker off
  double on_km = 0;      ///< breaker on
  double speed_kmh = 0;  ///< at breaker off: as ordered there and until breaker on
  std::vector<PassedWithoutPower> passed;  ///< in order, at least one

  double from_km() const { return passed.front().from_km; }
  double to_km() const { return passed.back().to_km; }
};

/// The stretches from breaker off to breaker on that lead through separation sections or lowered
/// stretches. Where two run into each other they are one. The speed is the lowest that is ordered
/// until breaker on, and no more than the train can have reached since it last stood.
std::vector<PowerlessStretch> powerless_stretches(const PlanningCase& planning,
                                                  const Orders& orders);

/// "A", "A and B".
std::string names_of(const PowerlessStretch& stretch, const Words& words);

}  // namespace panup
