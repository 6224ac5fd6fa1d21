#pragma once

#include <vector>

#include "plan/stand_current.h"
#include "plan/stands.h"

namespace panup {

/// Where the train has to stop before a place so that all raised pantographs are clear.
struct ShortStop {
  double at_km = 0;       ///< of the front of the train
  std::size_t piece = 0;  ///< that it is on then
  std::string what;       ///< "Stop at least 82 m before Mosk"
  std::string because;
};

struct StandPlaces {
  std::vector<PlacedFinding> findings;
  std::vector<ShortStop> short_stops;
};

/// By the rules of kind `standing_place`: says at which stands a raised pantograph would be where
/// none may stand, in what, and how much earlier the train has to stop so that all are clear. At a
/// stop, what is up on arrival counts and what is up on departure. After a reversal, what lies
/// before it is not looked at.
StandPlaces check_stand_places(const PlanningCase& planning, const std::vector<Stand>& stands);

}  // namespace panup
