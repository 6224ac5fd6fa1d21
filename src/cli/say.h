#pragma once

#include <fmt/format.h>

#include <string_view>

namespace panup {

/// Writes to standard error. Where that cannot be written, nothing is said: there is nobody left to
/// say it to, and the exit status still tells.
void say(std::string_view text);

/// The same of a format with its arguments. A line ends where the text ends it.
template <typename... Arguments>
void say(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
  say(std::string_view(fmt::format(format, std::forward<Arguments>(arguments)...)));
}

}  // namespace panup
