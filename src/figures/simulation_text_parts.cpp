#include "figures/simulation_text_parts.h"

#include <fmt/format.h>

#include <cmath>

#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"

namespace panup {

void add_calculation_fact(std::string& out, std::string_view name, std::string_view text) {
  out += hanging(fmt::format("{:<12}  ", name), plain(text), text_columns);
}

std::string line_words(const ContactLine& line) {
  return fmt::format("{}, {} span{}, {:g} m", with_id(line.name, line.id), line.spans.size(),
                     line.spans.size() == 1 ? "" : "s", length_of(line));
}

std::string figure(double value, int decimals) {
  const std::string figures = fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool is_zero = figures.find_first_not_of("0.") == std::string::npos;
  return value < 0 && !is_zero ? "−" + figures : figures;
}

}  // namespace panup
