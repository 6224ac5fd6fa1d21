#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostics.h"

namespace panup {

/// The text of an input file under the name by which it is reported.
struct SourceText {
  std::string file;
  std::string text;
};

inline constexpr std::size_t greatest_file_bytes = 8'000'000;
inline constexpr std::size_t greatest_line_characters = 4'000;

/// Reads a file whole. Nothing, and a diagnostic, if it cannot be read or is larger than
/// `greatest_file_bytes`.
std::optional<SourceText> load_text(const std::string& path, Diagnostics& diagnostics);

/// Whether the text may go to a parser: valid UTF-8 without NUL, no overlong line. Says what is
/// wrong otherwise. Places count code points.
bool is_sound(const SourceText& source, Diagnostics& diagnostics);

/// The entry of `known` that `word` is most likely a misspelling of, or that alone begins with it:
/// "AC 15 kV" is no misspelling of "DC 1.5 kV". Empty if none is near.
template <typename Words>
std::string_view nearest_of(std::string_view word, const Words& known);

/// Edit distance: insertions, deletions, replacements and swaps of neighbours.
std::size_t edit_distance(std::string_view a, std::string_view b);

template <typename Words>
std::string_view nearest_of(std::string_view word, const Words& known) {
  constexpr std::size_t shortest_beginning = 3;
  std::string_view nearest;
  std::size_t begin_so = 0;
  for (const auto& candidate : known) {
    const std::string_view text(candidate);
    if (word.size() >= shortest_beginning && text.starts_with(word)) {
      ++begin_so;
      nearest = text;
    }
  }
  if (begin_so == 1) {
    return nearest;
  }
  nearest = {};
  std::size_t least = word.size() / 3 + 2;
  for (const auto& candidate : known) {
    const std::string_view text(candidate);
    const std::size_t longest = text.size() > word.size() ? text.size() : word.size();
    const std::size_t distance = edit_distance(word, text);
    if (distance < least && distance * 2 < longest + 1) {
      least = distance;
      nearest = text;
    }
  }
  return nearest;
}

}  // namespace panup
