#pragma once

#include <string>

#include "drawing/canvas.h"

namespace panup {

/// The smallest type on the card: nothing that matters is smaller.
inline constexpr TextStyle small{.size_pt = 8.5};
inline constexpr TextStyle small_bold{.size_pt = 8.5, .weight = FontWeight::bold};

/// Lengths in characters beyond which a text is shortened, so that nothing, however long, runs off
/// a sheet.
inline constexpr std::size_t longest_name = 240;
inline constexpr std::size_t longest_order = 600;
inline constexpr std::size_t longest_text = 900;

/// A text of the user's as the card shows it: shortened, without control characters, numbers kept
/// with their units.
std::string fitted(const std::string& text, std::size_t longest = longest_name);

}  // namespace panup
