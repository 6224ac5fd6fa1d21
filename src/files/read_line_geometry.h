#pragma once

#include <vector>

#include "base/toml_table.h"
#include "files/read_provenance.h"
#include "line/route.h"

namespace panup {

/// Reads the keys `span` and `wires` of a section: where its contact wire lies, seen from above.
/// Spans without wires are a mistake; wires alone are not.
void read_spans(TomlTable& section_table, Section& section);

/// Reads low places, `[[low_place]]`, in order. Those that could not be placed have been reported
/// and are left out.
std::vector<LowPlace> read_low_places(std::vector<TomlTable> entries, const ValueSources& sources);

}  // namespace panup
