#include "input_texts.h"

#include <stdexcept>

namespace panup {

std::string lines_of(Diagnostics diagnostics) {
  sort_by_place(diagnostics);
  std::string lines;
  for (const Diagnostic& diagnostic : diagnostics) {
    lines += to_line(diagnostic) + "\n";
  }
  return lines;
}

std::string replaced(std::string_view text, std::string_view what, std::string_view by) {
  const std::size_t at = text.find(what);
  if (at == std::string_view::npos || text.find(what, at + 1) != std::string_view::npos) {
    throw std::logic_error("not once in the right text: " + std::string(what));
  }
  return std::string(text).replace(at, what.size(), by);
}

}  // namespace panup
