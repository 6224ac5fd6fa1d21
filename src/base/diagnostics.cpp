#include "base/diagnostics.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace panup {

std::string to_line(const Diagnostic& diagnostic) {
  const SourcePlace& place = diagnostic.place;
  if (place.line == 0) {
    return fmt::format("{}: {}", place.file, diagnostic.text);
  }
  return fmt::format("{}:{}:{}: {}", place.file, place.line, place.column, diagnostic.text);
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
