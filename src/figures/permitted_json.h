#pragma once

#include <nlohmann/json.hpp>

#include "quality/permitted_speed.h"

namespace panup {

/// What is to be doubted of the runs that a permitted speed stands on.
nlohmann::ordered_json warnings_to_json(const PermittedSpeed& speed, const Words& words);
/// The permitted speed with either stiffness of messenger supports; null if the line states it.
nlohmann::ordered_json by_supports_to_json(const PermittedSpeed& speed);

}  // namespace panup
