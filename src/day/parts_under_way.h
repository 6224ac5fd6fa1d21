#pragma once

#include "plan/run_plan.h"
#include "requests/run_input.h"

namespace panup {

/// Makes of a train's plan, whose parts all begin and end at a stand, one that does not stop where
/// vehicles leave it on the move. The orders, and with them the speeds, are those of the train
/// under way; what is done where a pantograph has failed stays as it is, from a stand: the train
/// stops there then.
///
/// Where that cannot be done at one of these places, the train stops there: that is a last resort,
/// and said with its reason. False where the planning was stopped.
bool run_on_where_some_leave(const RunInput& input, RunPlan& run);

}  // namespace panup
