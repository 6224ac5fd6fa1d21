#pragma once

#include <vector>

#include "base/toml_table.h"
#include "line/route.h"

namespace panup {

/// Gradients, `[[gradient]]`, in order; reports those that overlap. Those that could
/// not be read are left out.
std::vector<Gradient> read_gradients(std::vector<TomlTable> entries);

/// Section insulators and other overlaps, `[[section_insulator]]`, in order.
std::vector<SectionInsulator> read_section_insulators(std::vector<TomlTable> entries);

}  // namespace panup
