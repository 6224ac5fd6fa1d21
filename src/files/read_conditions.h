#pragma once

#include <optional>

#include "base/source_text.h"
#include "line/route.h"

namespace panup {

/// Reads the day's conditions. With a route, stretches named by section are looked up in it and
/// "ice everywhere" covers it; without one, section ids are not checked and the ice is left empty.
/// Ice stretches are sorted, and those that touch are one.
std::optional<Conditions> read_conditions(const SourceText& source, const Route* route,
                                          Diagnostics& diagnostics);

/// Whether conditions name sections of a route.
bool names_sections(const SourceText& source);

}  // namespace panup
