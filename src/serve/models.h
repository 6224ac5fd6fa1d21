#pragma once

#include <nlohmann/json.hpp>

#include "files/read_stock.h"
#include "line/route.h"

namespace panup {

/// What the page shows of a route beside its plan.
nlohmann::ordered_json route_to_model(const Route& route, const Conditions& conditions);

/// The vehicle types that a train can be made up of.
nlohmann::ordered_json vehicle_types_to_model(const Stock& stock);

}  // namespace panup
