#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "day/day.h"

namespace panup {

/// `[{from_km, to_km}]`.
nlohmann::ordered_json stretches_to_json(const std::vector<KmStretch>& stretches);

/// What came out for a train, as it stands in the day's JSON, and in the store of answers.
nlohmann::ordered_json outcome_to_json(const TrainOutcome& outcome);

/// The inverse; nothing where it is not such an object.
std::optional<TrainOutcome> outcome_from_json(const nlohmann::ordered_json& json);

}  // namespace panup
