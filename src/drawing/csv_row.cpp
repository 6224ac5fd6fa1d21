#include "drawing/csv_row.h"

#include "base/cell_values.h"

namespace panup {

namespace {

std::string cell(std::string text) {
  if (!text.empty() && std::string_view("=+-@").find(text.front()) != std::string_view::npos &&
      !number_in_cell(text)) {
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
