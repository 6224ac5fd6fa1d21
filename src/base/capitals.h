#pragma once

#include <string>
#include <string_view>

#include "base/words.h"

namespace panup {

/// The first letter as a capital, if it is one of a to z, or one of these with an accent.
std::string capitalised(std::string_view text);

/// The first letter small, if the second one is small too: "Line speed" but not "AC 15 kV". In
/// English; where a language has capitals within a sentence, nobody can tell from a text.
std::string uncapitalised(std::string_view text, const Words& words = {});

}  // namespace panup
