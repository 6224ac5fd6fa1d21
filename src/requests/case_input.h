#pragma once

#include "files/read_practice_cases.h"
#include "requests/plan_input.h"

namespace panup {

/// What a case of practice is planned with: what its list names, and nothing else.
PlanPaths paths_of_case(const PracticeCases& cases, const PracticeCase& one);

}  // namespace panup
