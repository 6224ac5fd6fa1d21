#pragma once

#include <string_view>
#include <vector>

#include "drawing/sheets.h"

namespace panup {

/// Whether one of the texts has `what` in it.
bool says(const std::vector<DrawnText>& texts, std::string_view what);

/// Whether boxes share more than a touch of their edges.
bool overlap(const Box& a, const Box& b);

}  // namespace panup
