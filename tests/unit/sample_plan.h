#pragma once

#include <initializer_list>
#include <string>
#include <utility>

#include "plan/make_plan.h"
#include "plan/run_plan.h"
#include "plan/why_not.h"

namespace panup {

/// Plans made by hand, to see how they are shown; all of it is invented. They are consistent as far
/// as showing needs it, and no rule was asked.

/// Two locomotives with a dangerous load over three energy supply systems: system separation
/// sections passed with pantographs down, a phase separation section passed with them up, ice, a
/// reversal, a defective pantograph, and failures of which one strands the train.
Plan sample_plan();

/// An answer to "why not" on that plan.
WhyNot sample_why_not();

/// The sample with every name as long as it may get in earnest, and longer.
Plan plan_with_long_names();

/// Three locomotives with four pantographs each, forty sections, sixty instructions.
Plan huge_plan();

/// Two electric units coupled.
Plan unit_pair_plan();

/// Two locomotives with diamond-type pantographs, the second one going dead in tow.
Plan diamond_plan();

/// A locomotive, 500 m of load, and a banking locomotive behind it.
Plan banking_plan();

/// As many vehicles as there may be pantographs, and a load between any two.
Plan crowded_plan();

/// The sample where nothing is permitted on one section and consent is needed on another.
Plan refused_plan();

/// The sample where consent is needed on a section.
Plan consent_plan();

/// The run of a train that nothing is attached to or detached from.
RunPlan as_run(Plan plan);

/// All of these, each with a name.
std::vector<std::pair<std::string, Plan>> all_sample_plans();

}  // namespace panup
