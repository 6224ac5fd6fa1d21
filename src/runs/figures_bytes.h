#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "quality/run_figures.h"

namespace panup {

/// The figures of a run as bytes, from which they come back to the last bit on any host: a count
/// and the pantographs' figures, the figures of the line, a count and the refusals, a count and the
/// warnings. Of a sentence its English pattern and arguments: nothing hangs on a language.
std::string to_bytes(const RunFigures& figures);

/// Nothing where the bytes are no figures of a run. Takes no more memory than the bytes call for,
/// whatever counts they state.
std::optional<RunFigures> figures_from(std::string_view bytes);

}  // namespace panup
