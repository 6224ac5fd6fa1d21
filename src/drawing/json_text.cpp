#include "drawing/json_text.h"

#include <nlohmann/json.hpp>

#include "base/handed_out.h"

namespace panup {

std::string json_text(const nlohmann::ordered_json& document) {
  return document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

void add_language(nlohmann::ordered_json& json, const Words& words) {
  if (words != Words()) {
    json["language"] = words.language();
  }
}

nlohmann::ordered_json optional_to_json(const std::optional<double>& value) {
  return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}

nlohmann::ordered_json inputs_to_json(const std::vector<InputFile>& inputs) {
  nlohmann::ordered_json json = nlohmann::ordered_json::array();
  for (const InputFile& input : inputs) {
    nlohmann::ordered_json entry{{"role", input.role}, {"path", input.path}};
    if (!input.sha256.empty()) {
      entry["sha256"] = input.sha256;
    }
    json.push_back(std::move(entry));
  }
  return json;
}

}  // namespace panup
