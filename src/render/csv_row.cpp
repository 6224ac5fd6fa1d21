#include "render/csv_row.h"

#include <algorithm>

namespace panup {

namespace {

bool is_number(std::string_view text) {
  text.remove_prefix(text.starts_with('-') ? 1 : 0);
  return !text.empty() &&
         std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || c == '.'; });
}

std::string cell(std::string text) {
  if (!text.empty() && std::string_view("=+-@").find(text.front()) != std::string_view::npos &&
      !is_number(text)) {
    text.insert(0, " ");
  }
  if (text.find_first_of(",\"\n\r") == std::string::npos) {
    return text;
  }
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c == '"' ? "\"\"" : std::string(1, c);
  }
  return quoted + "\"";
}

}  // namespace

std::string csv_row(const std::vector<std::string>& cells) {
  std::string row;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    row += (i > 0 ? "," : "") + cell(cells[i]);
  }
  return row + "\n";
}

}  // namespace panup
