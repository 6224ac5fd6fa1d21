#include "render/json_text.h"

#include <nlohmann/json.hpp>

namespace panup {

std::string json_text(const nlohmann::ordered_json& document) {
  return document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace panup
