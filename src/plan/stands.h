#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "plan/planning_case.h"
#include "plan/way.h"

namespace panup {

enum class StandKind : std::uint8_t { departure, stop, arrival, signal };

/// A place where the train stands, or may have to, as its neighbourhood on the way.
struct Stand {
  StandKind kind{};
  std::string name;         ///< of the stop or signal; may be empty at departure and on arrival
  double at_km = 0;         ///< of the front of the train
  std::size_t ground = 0;   ///< piece whose line the train stands under
  std::size_t entered = 0;  ///< piece that it enters from the stand; their number on arrival
  PantographSet up;         ///< when it comes to the stand
  PantographSet leaves;     ///< what it leaves with
};

/// Departure, every stop, arrival, then every signal.
std::vector<Stand> stands_of(const PlanningCase& planning, const Way& way);

/// "at departure", "at the stop Mosk", "on arrival", "at the signal Mosk home signal".
std::string where_words(const Stand& stand, const Words& words);

/// "the place of departure", "Mosk", "the end of the route", "Mosk home signal".
std::string place_words(const Stand& stand, const Words& words);

}  // namespace panup
