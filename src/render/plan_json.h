#pragma once

#include <nlohmann/json.hpp>

#include "plan/plan.h"

namespace panup {

/// The whole plan for scripts, in the order in which it reads. The fields stand, with meaning and
/// units, in `docs/schema/plan.schema.json`; a field once there keeps its name.
nlohmann::ordered_json plan_to_json(const Plan& plan);

/// The same, but of each contingency only which pantograph fails, the answer, the running time and
/// the speeds. Whole contingencies are nine tenths of the text, and take most of the time that it
/// takes to write and to read it.
nlohmann::ordered_json plan_in_short_to_json(const Plan& plan);

}  // namespace panup
