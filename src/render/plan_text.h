#pragma once

#include <string>

#include "plan/plan.h"

namespace panup {

/// The whole plan as text: the train, the answer, the sections, the findings that decided, the
/// instructions, what if a pantograph fails, notes and cautions. UTF-8, no colour, at most
/// `text_columns` (render/text_parts.h) wide; ends with a line feed.
std::string plan_to_text(const Plan& plan);

}  // namespace panup
