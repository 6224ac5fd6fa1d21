#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "quality/run_figures.h"

namespace panup {

/// The figures of a run as bytes (CBOR, RFC 8949), from which they come back to the last bit.
std::string to_bytes(const RunFigures& figures);

/// Nothing where the bytes are no figures of a run.
std::optional<RunFigures> figures_from(std::string_view bytes);

}  // namespace panup
