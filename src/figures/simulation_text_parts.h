#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "dynamics/contact_line.h"

namespace panup {

/// Lists in the text are no longer than this.
inline constexpr std::size_t longest_list = 12;

/// "Line         NV-140, Nordvale main line (NV-140), 25 spans, 1615 m".
void add_calculation_fact(std::string& out, std::string_view name, std::string_view text);

std::string line_words(const ContactLine& line);

/// A number with a minus sign: "−3.4".
std::string figure(double value, int decimals);

}  // namespace panup
