#pragma once

#include <nlohmann/json.hpp>

#include "plan/plan.h"

namespace panup {

/// What the card says of a pantograph that fails: its rows, which of them speaks of each place
/// along the route, and pictures of the train with what is then up, the failed one struck out.
/// Without places where the plan does not look at its failure.
nlohmann::ordered_json failure_to_json(const Plan& plan, PantographRef failed);

}  // namespace panup
