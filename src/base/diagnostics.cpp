#include "base/diagnostics.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <tuple>

namespace panup {

namespace {

/// Names and keys of the user's may hold anything; a message is one line and moves no cursor.
std::string one_line(std::string_view text) {
  std::string clean;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    if (byte < 0x20 || byte == 0x7F) {
      clean += fmt::format("\\u{:04X}", byte);
    } else if (byte == 0xC2 && next >= 0x80 && next < 0xA0) {
      clean += fmt::format("\\u{:04X}", next);
      ++i;
    } else {
      clean += text[i];
    }
  }
  return clean;
}

}  // namespace

std::string to_line(const Diagnostic& diagnostic) {
  const SourcePlace& place = diagnostic.place;
  if (place.line == 0) {
    return one_line(fmt::format("{}: {}", place.file, diagnostic.text));
  }
  return one_line(
      fmt::format("{}:{}:{}: {}", place.file, place.line, place.column, diagnostic.text));
}

void sort_by_place(Diagnostics& diagnostics) {
  std::vector<std::string> files;
  for (const Diagnostic& diagnostic : diagnostics) {
    if (std::ranges::find(files, diagnostic.place.file) == files.end()) {
      files.push_back(diagnostic.place.file);
    }
  }
  const auto key = [&files](const Diagnostic& diagnostic) {
    const auto file = std::ranges::find(files, diagnostic.place.file) - files.begin();
    return std::tuple(file, diagnostic.place.line, diagnostic.place.column);
  };
  std::ranges::stable_sort(diagnostics, {}, key);
  const auto same = [&key](const Diagnostic& a, const Diagnostic& b) {
    return key(a) == key(b) && a.text == b.text;
  };
  const auto rest = std::ranges::unique(diagnostics, same);
  diagnostics.erase(rest.begin(), rest.end());
}

}  // namespace panup
