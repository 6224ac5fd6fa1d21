#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "wording/finding_groups.h"

namespace panup {

/// Findings as text under a heading, each rule with its standing, its source and why there is
/// it; empty if there are
/// none.
std::string findings_to_text(std::string_view heading, const std::vector<FindingGroup>& groups,
                             const Words& words = {});

}  // namespace panup
