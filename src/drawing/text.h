#pragma once
/// What any text goes through before it is shown.

#include <string>
#include <string_view>

namespace panup {

/// A text fit to be shown: control characters, which a terminal would obey, become spaces.
std::string plain(std::string_view text);

/// The text, or what of it fits `characters` with an ellipsis at its end: so that no name, however
/// long, pushes everything else off a sheet.
std::string shortened(std::string_view text, std::size_t characters);

/// The text with the spaces that should not be broken made no-break spaces (U+00A0): between a
/// number and its unit, and between "km" and a chainage.
std::string kept_together(std::string_view text);

}  // namespace panup
