#pragma once
/// The cases of working practice that are built into the program. They are planned from their own
/// files and rule book alone: whatever library and rule books the server has, a case is the case.

#include <string>

#include "serve/plan_requests.h"
#include "serve/reply.h"

namespace panup {

/// All of them, in order; nothing is planned.
Reply reply_to_cases();
/// The plan of one, as of `reply_to_plan`.
Reply reply_to_case_plan(const std::string& body, const PlanningPlace& place,
                         const Stopped& stopped = {});
/// Why others than the plan's are not up, as of `reply_to_why`.
Reply reply_to_case_why(const std::string& body, const PlanningPlace& place,
                        const Stopped& stopped = {});

}  // namespace panup
