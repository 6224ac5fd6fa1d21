#pragma once

#include <string>

#include "plan/plan.h"

namespace panup {

/// Why the train does not run on a section: because nothing is permitted there, or because its
/// orders have it stop before for want of a permitted configuration. A clause; empty if it runs.
std::string does_not_run_because(const Plan& plan, const PlannedSection& section);

}  // namespace panup
