#pragma once

#include <nlohmann/json.hpp>

#include "day/train_change.h"

namespace panup {

/// In what a train changes, as it stands in the day's JSON and in that of "what if".
nlohmann::ordered_json change_to_json(const TrainChange& change);

}  // namespace panup
