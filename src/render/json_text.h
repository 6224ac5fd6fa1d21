#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace panup {

/// A JSON document as it is handed out. Bytes that are no UTF-8, as a path may hold, are replaced.
std::string json_text(const nlohmann::ordered_json& document);

}  // namespace panup
