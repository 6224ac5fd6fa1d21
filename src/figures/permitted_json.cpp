#include "figures/permitted_json.h"

namespace panup {

using Json = nlohmann::ordered_json;

Json warnings_to_json(const PermittedSpeed& speed, const Words& words) {
  Json warnings = Json::array();
  for (const Warning& warning : speed.warnings) {
    warnings.push_back({{"doubt", name_of(warning.doubt)}, {"text", warning.text.said(words)}});
  }
  return warnings;
}

Json by_supports_to_json(const PermittedSpeed& speed) {
  return speed.by_supports ? Json{{"stiff_n_per_m", stiff_messenger_support_n_per_m},
                                  {"stiff_kmh", speed.by_supports->stiff_kmh},
                                  {"soft_n_per_m", soft_messenger_support_n_per_m},
                                  {"soft_kmh", speed.by_supports->soft_kmh}}
                           : Json(nullptr);
}

}  // namespace panup
