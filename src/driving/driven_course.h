#pragma once
/// What the train does where the orders are obeyed: places and states, nothing judged.

#include <string>
#include <vector>

#include "driving/drive.h"
#include "stock/layout.h"

namespace panup {

/// While the front of the train is between these chainages.
struct FrontStretch {
  double from_km = 0;
  double to_km = 0;
};

/// From one reversal to the next.
struct DrivenLeg {
  FrontStretch front;
  Layout layout;
  bool turned_at_start = false;  ///< it begins with a reversal
  double start_km = 0;           ///< where it begins; before `front`, where the train departs on it
};

/// A pantograph, by leg, while its head may touch the wire.
struct Touching {
  std::size_t leg = 0;
  std::size_t pantograph = 0;  ///< index into the leg's layout
  FrontStretch front;
};

/// A vehicle while its breaker may be closed.
struct Closed {
  int vehicle = 0;
  FrontStretch front;
};

struct OrderedSpeed {
  double from_km = 0;
  double speed_kmh = 0;
};

struct DrivenCourse {
  std::vector<DrivenLeg> legs;
  std::vector<Touching> touching;
  std::vector<Closed> closed;
  std::vector<OrderedSpeed> speeds;  ///< by rising chainage
  double end_km = 0;
  std::vector<DrivenFault> faults;  ///< orders that cannot be obeyed
};

/// The legs of the whole route.
std::vector<DrivenLeg> driven_legs(const DrivenOrders& driven);

DrivenCourse follow_orders(const DrivenOrders& driven, const DrivenRules& rules);

/// The highest speed ordered while the front is on the stretch, in km/h.
double highest_speed_kmh(const DrivenCourse& course, FrontStretch stretch);

}  // namespace panup
