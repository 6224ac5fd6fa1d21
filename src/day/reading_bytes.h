#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "day/train_reading.h"

namespace panup {

/// What is read of a plan as it is kept: the same to the last bit when it is read back.
std::string reading_to_bytes(const TrainReading& reading);

/// The inverse; nothing where it is not such bytes, whatever sizes they state.
std::optional<TrainReading> reading_from_bytes(std::string_view bytes);

}  // namespace panup
