#pragma once

#include "dynamics/mechanics_data.h"
#include "plan/mechanics.h"
#include "quality/run_figures.h"

namespace panup {

/// Answers from contact lines and pantograph models, by the criteria of a rule book. Data and rule
/// book must outlive it. The static force is that of the pantograph type on the system, because
/// that is what the vehicle's own file says.
MechanicsSource mechanics_answers(const MechanicsData& data, const RuleBook& rules, RunSource runs);

}  // namespace panup
