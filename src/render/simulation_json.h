#pragma once

#include <nlohmann/json.hpp>

#include "render/simulation_record.h"

namespace panup {

/// A run as JSON; docs/schema/simulate.schema.json describes it. Numbers are as computed.
nlohmann::ordered_json simulation_to_json(const SimulationRecord& record);

/// A line at rest as JSON; docs/schema/simulate-static.schema.json describes it.
nlohmann::ordered_json rest_to_json(const RestRecord& record);

}  // namespace panup
