#pragma once

#include <string>

#include "plan/plan.h"

namespace panup {

/// Greatest number of columns of what is written for a terminal.
inline constexpr std::size_t text_columns = 100;

/// The whole plan as text: the train, the answer, the sections, the findings that decided, the
/// instructions, what if a pantograph fails, notes and cautions. UTF-8, no colour, at most
/// `text_columns` wide; ends with a line feed.
std::string plan_to_text(const Plan& plan);

}  // namespace panup
