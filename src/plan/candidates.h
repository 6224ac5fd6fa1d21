#pragma once

#include <cstddef>
#include <vector>

#include "judging/judge.h"

namespace panup {

/// A vehicle that may work, and which of its pantographs are worth raising together: nothing, one
/// or two of those that may be up, more only where its current asks for more or the train file
/// orders it. More than two of one vehicle serve no step of the ladder.
struct VehicleChoices {
  const RunningVehicle* vehicle = nullptr;
  std::vector<PantographSet> sets;  ///< rising; the empty one first
};

/// Of the vehicles not dead in tow, front first.
std::vector<VehicleChoices> choices_on(const Judge& judge, const Ground& ground);

/// How many configurations they make; as a floating number, since there may be very many.
double configuration_count(const std::vector<VehicleChoices>& choices);

/// All of them, by rising set. Ask first how many there are.
std::vector<PantographSet> configurations(const std::vector<VehicleChoices>& choices);

/// No configuration with more up than this is permitted on the ground by what its section's records
/// and the consents say.
std::size_t most_permitted(const Judge& judge, const Ground& ground);

}  // namespace panup
