#pragma once

#include <string>
#include <vector>

#include "plan/plan.h"

namespace panup {

/// The plan of a run: a plan for each part, between two of which the vehicles of the train change.
/// The orders of all parts, one behind the other, are those of the driver.
struct RunPlan {
  std::string id;
  std::string name;
  std::vector<Plan> parts;  ///< in order; at least one
};

/// The worst of the parts.
Answer answer_of(const RunPlan& run);

/// Of all parts, without time at stops.
double running_time_s(const RunPlan& run);

/// Adds what the driver does where a part ends, before vehicles are coupled or uncoupled: all
/// breakers off, all pantographs down, then each of `changes`. `place`: its name.
void add_change_orders(const std::string& place, const std::vector<std::string>& changes,
                       Plan& plan);

}  // namespace panup
