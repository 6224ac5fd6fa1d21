#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "plan/why_not.h"

namespace panup {

/// Which part of a train's way was asked about: `number` of `count`, from 1. Of one part, nothing
/// is said of it.
struct AskedPart {
  std::size_t number = 1;
  std::size_t count = 1;
};

/// The answer to "why not this configuration here?" as text for a terminal, with the cautions.
std::string why_not_to_text(const Plan& plan, const WhyNot& why, AskedPart part = {});

/// The same for scripts; the schema stands in `docs/schema/why-not.schema.json`.
nlohmann::ordered_json why_not_to_json(const Plan& plan, const WhyNot& why, AskedPart part = {});

}  // namespace panup
