#pragma once

#include <optional>

#include "base/source_text.h"
#include "line/route.h"

namespace panup {

/// Reads a route. Nothing, and at least one diagnostic, if anything is wrong with it.
std::optional<Route> read_route(const SourceText& source, Diagnostics& diagnostics);

}  // namespace panup
