#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "plan/plan.h"

namespace panup {

/// Null where a text is empty: not stated.
nlohmann::ordered_json stated_or_null(const std::string& text);

/// `["1.1", "2.2"]`.
nlohmann::ordered_json refs_to_json(const std::vector<PantographRef>& refs);

/// A list of `{file, line, column, text}`.
nlohmann::ordered_json diagnostics_to_json(const Diagnostics& diagnostics);

/// A list of `{rule, strength, standing, kept, text, source}`.
nlohmann::ordered_json findings_to_json(const std::vector<Finding>& findings);

/// A list of `{load, nature, pantographs}`.
nlohmann::ordered_json exposed_to_json(const std::vector<ExposedLoad>& exposed);

/// The train: vehicles with their pantographs and places, loads, consents.
nlohmann::ordered_json train_to_json(const Train& train);

}  // namespace panup
