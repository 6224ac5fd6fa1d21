#pragma once

#include <string_view>
#include <vector>

#include "base/toml_table.h"
#include "line/route.h"

namespace panup {

/// What is checked: a route, or a line of a network by rising kilometres.
struct Track {
  const Route& route;
  std::string_view name;  ///< "the route", "line '7'"
};

/// Reports what is wrong between the entries of a route, each read by itself. A section's end that
/// could not be read is no number, and nothing is said of it; of the other lists, entries whose
/// place could not be read are left out. Changes of the energy supply system are looked at only
/// where `separations_are_right`: a separation section left out would seem to be missing. Stops,
/// landmarks and stretches stand in order.
void check_route(const Track& track, bool separations_are_right, TomlTable& root);

/// The same for marks of a line of a network that hold for trains by falling kilometres. The other
/// marks are those of `track`.
void check_falling_landmarks(const Track& track, const std::vector<Landmark>& landmarks,
                             bool separations_are_right, TomlTable& root);

/// What is no mistake of the route but costs something in every plan on it: records of a section
/// that contradict each other, and gradients that are not stated where trains run without power.
Diagnostics notices_on(const Route& route);

}  // namespace panup
