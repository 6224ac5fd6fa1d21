#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace panup {

/// A text packed fast, with its size before it. Plans as JSON are some hundred times smaller so.
std::string packed_text(const std::string& text);

/// The inverse; nothing where it is not such bytes, whatever sizes they state.
std::optional<std::string> unpacked_text(std::string_view bytes);

}  // namespace panup
