#pragma once

#include <optional>

#include "base/source_text.h"
#include "line/network_conditions.h"
#include "line/route.h"

namespace panup {

/// Reads the day's conditions. With a route, stretches named by section are looked up in it and
/// "ice everywhere" covers it; without one, section ids are not checked and the ice is left empty.
/// Ice stretches are sorted, and those that touch are one.
std::optional<Conditions> read_conditions(const SourceText& source, const Route* route,
                                          Diagnostics& diagnostics);

/// Reads the day's conditions for runs through a network, whose lines each have their own
/// kilometres. With the network, lines, sections and regions are looked up in it.
std::optional<NetworkConditions> read_network_conditions(const SourceText& source,
                                                         const Network* network,
                                                         Diagnostics& diagnostics);

/// Whether conditions say what only those for a network can: by line, region or time, or of local
/// wind and temperature.
bool is_for_networks(const SourceText& source);

/// Whether conditions name sections of a route.
bool names_sections(const SourceText& source);

}  // namespace panup
