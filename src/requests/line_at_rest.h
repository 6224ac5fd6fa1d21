#pragma once

#include <string>
#include <variant>
#include <vector>

#include "figures/simulation.h"

namespace panup {

/// The line at rest, with its elasticity. Inputs and version are left empty. Or, in words, why it
/// does not hang.
///
/// Of a long line, elasticity is that of spans in its middle, hung alone with enough spans on
/// either side that the ends are not felt: the whole would take minutes.
std::variant<StaticReport, std::vector<Sentence>> line_at_rest(const ContactLine& line,
                                                               const LineWeather& weather);

}  // namespace panup
