#pragma once

#include <string>
#include <vector>

#include "base/handed_out.h"
#include "plan/plan.h"

namespace panup {

/// The plan of a train from departure to arrival: a plan for each part, between two of which the
/// vehicles of the train change; for most trains, one. The chainage runs on from part to part, and
/// vehicles keep their numbers. The orders of all parts, one behind the other, are those of the
/// driver.
struct RunPlan {
  std::string id;
  std::string name;
  std::string route_name;   ///< of the whole way
  std::vector<Plan> parts;  ///< in order; at least one
};

/// The files that the parts were made from, each once.
std::vector<InputFile> inputs_of(const RunPlan& run);

/// The worst of the parts.
Answer answer_of(const RunPlan& run);

/// Of all parts, without time at stops.
double running_time_s(const RunPlan& run);

/// Adds what the driver does where a part ends, before vehicles are coupled or uncoupled: all
/// breakers off, all pantographs down, then each of `changes`.
void add_change_orders(const std::vector<std::string>& changes, Plan& plan);

}  // namespace panup
