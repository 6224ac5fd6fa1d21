#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/handed_out.h"

namespace panup {

/// A JSON document as it is handed out. Bytes that are no UTF-8, as a path may hold, are replaced.
std::string json_text(const nlohmann::ordered_json& document);

/// Adds "language", where it is another than English.
void add_language(nlohmann::ordered_json& json, const Words& words);

/// The number, or null.
nlohmann::ordered_json optional_to_json(const std::optional<double>& value);

/// A list of `{role, path, sha256}`; the last one only where it was taken.
nlohmann::ordered_json inputs_to_json(const std::vector<InputFile>& inputs);

}  // namespace panup
