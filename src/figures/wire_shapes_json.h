#pragma once

#include <nlohmann/json.hpp>

#include "dynamics/wire_shapes.h"

namespace panup {

/// `{times_s, wires: [{name, at_m, rest_m, lift_mm}], pantographs_at_m, head_height_m}`; lifts by
/// time, then by place, in millimetres to a tenth.
nlohmann::ordered_json wire_shapes_to_json(const WireShapes& shapes);

}  // namespace panup
