#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/run_plan.h"
#include "requests/run_input.h"

namespace panup {

/// Plans a train, part after part; nothing where it was stopped. Each plan gets the files of its
/// part, and the version. Throws as `make_driven_plan`.
std::optional<RunPlan> plan_parts(RunInput input, std::string_view program_version);

/// Files that were looked for, for any part, and are not there; each once.
std::vector<std::string> not_there(const RunInput& input);

}  // namespace panup
