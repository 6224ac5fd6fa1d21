#pragma once

#include <vector>

#include "plan/orders.h"
#include "plan/plan.h"

namespace panup {

/// The orders in words, each with its landmark and its reason, in the same sequence.
std::vector<Instruction> write_instructions(const PlanningCase& planning, const Way& way,
                                            const std::vector<Order>& orders);

}  // namespace panup
