#include "base/cell_values.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace panup {

std::optional<double> number_in_cell(std::string_view text) {
  if (text.starts_with('+')) {
    text.remove_prefix(1);
    if (text.starts_with('-')) {
      return std::nullopt;
    }
  }
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  return whole && std::isfinite(number) ? std::optional(number) : std::nullopt;
}

std::string id_from(std::string_view text, std::string_view otherwise) {
  std::string id;
  for (const char c : text.substr(0, 80)) {
    const bool clean = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '_' || c == '.';
    if (clean) {
      id += c;
    } else if (!id.empty() && id.back() != '-') {
      id += '-';
    }
  }
  while (id.ends_with('-')) {
    id.pop_back();
  }
  return id.empty() ? std::string(otherwise) : id;
}

std::string free_id_from(std::string_view text, std::string_view otherwise,
                         std::set<std::string>& taken) {
  const std::string id = id_from(text, otherwise);
  std::string free_id = id;
  for (int again = 2; !taken.insert(free_id).second; ++again) {
    free_id = fmt::format("{}-{}", id, again);
  }
  return free_id;
}

std::string one_line_of(std::string_view text) {
  constexpr std::size_t longest = 200;
  std::size_t end = std::min(text.size(), longest);
  // Not within a character.
  while (end < text.size() && end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80) {
    --end;
  }
  std::string line;
  for (const char c : text.substr(0, end)) {
    const auto byte = static_cast<unsigned char>(c);
    line += byte < 0x20 || byte == 0x7F ? ' ' : c;
  }
  return end < text.size() ? line + "…" : line;
}

}  // namespace panup
