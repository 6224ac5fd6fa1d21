#pragma once

#include <string>
#include <string_view>

#include "base/diagnostics.h"

namespace panup {

/// What was found, a line each, in the order of files and places.
std::string lines_of(Diagnostics diagnostics);

/// The text with one part replaced. Throws std::logic_error unless that part occurs exactly once.
std::string replaced(std::string_view text, std::string_view what, std::string_view by);

}  // namespace panup
