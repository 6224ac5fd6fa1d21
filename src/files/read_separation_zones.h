#pragma once

#include <optional>
#include <vector>

#include "base/toml_table.h"
#include "line/route.h"

namespace panup {

/// The zones of a separation section, `[[separation.zone]]`, whose other keys have been read into
/// `section`; reports what is wrong with each, between them, and between them and the length.
/// `separates`: none where that could not be read.
/// Empty where none are stated, or where one could not be read.
std::vector<SeparationZone> read_separation_zones(TomlTable& table,
                                                  const SeparationSection& section,
                                                  std::optional<SeparationKind> separates);

}  // namespace panup
