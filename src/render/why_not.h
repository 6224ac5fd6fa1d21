#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "plan/why_not.h"

namespace panup {

/// The answer to "why not this configuration here?" as text for a terminal, with the cautions.
std::string why_not_to_text(const Plan& plan, const WhyNot& why);

/// The same for scripts; the schema stands in `docs/schema/why-not.schema.json`.
nlohmann::ordered_json why_not_to_json(const WhyNot& why);

}  // namespace panup
