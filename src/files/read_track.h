#pragma once

#include <limits>
#include <vector>

#include "base/toml_table.h"
#include "files/read_provenance.h"
#include "line/route.h"

namespace panup {

/// What a track has: the lists that routes and networks write alike. Those of places take the
/// tables of a list, so that a file of many lines can hand on those of one.

/// Where a chainage could not be read.
inline constexpr double unknown_km = std::numeric_limits<double>::quiet_NaN();

/// The sections of a file, `[[section]]`, with the profiles that they are like, `[profile.NAME]`.
std::vector<Section> read_sections(TomlTable& root, const ValueSources& sources);

std::vector<SeparationSection> read_separations(std::vector<TomlTable> entries,
                                                const ValueSources& sources);
std::vector<LoweredStretch> read_lowered(std::vector<TomlTable> entries);
std::vector<Landmark> read_landmarks(std::vector<TomlTable> entries);

/// Leaves out what could not be placed (it has been reported), and puts the rest in order.
void put_in_order(Route& route);

}  // namespace panup
