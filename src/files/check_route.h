#pragma once

#include "base/toml_table.h"
#include "line/route.h"

namespace panup {

/// Reports what is wrong between the entries of a route, each read by itself. A section's end that
/// could not be read is no number, and nothing is said of it; of the other lists, entries whose
/// place could not be read are left out. Changes of the energy supply system are looked at only
/// where `separations_are_right`: a separation section left out would seem to be missing. Stops,
/// landmarks and stretches stand in order.
void check_route(const Route& route, bool separations_are_right, TomlTable& root);

/// What is no mistake of the route but costs something in every plan on it: records of a section
/// that contradict each other, and gradients that are not stated where trains run without power.
Diagnostics notices_on(const Route& route);

}  // namespace panup
