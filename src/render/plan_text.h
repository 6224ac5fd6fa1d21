#pragma once
/// The room `render`: a plan, a rule book and an answer to "why not" as text for a terminal and as
/// JSON for scripts. It takes them as they are; nothing is judged or computed.

#include <string>

#include "plan/plan.h"

namespace panup {

/// The whole plan as text: the train, the answer, the sections, the findings that decided, the
/// instructions, what if a pantograph fails, notes and cautions. UTF-8, no colour, at most
/// `text_columns` (render/text_parts.h) wide; ends with a line feed.
std::string plan_to_text(const Plan& plan);

}  // namespace panup
