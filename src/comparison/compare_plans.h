#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "comparison/read_plan_json.h"

namespace panup {

/// One thing that is not as it was.
struct PlanChange {
  /// "answer", "train", "route", "conditions", "section", "instruction", "contingency", "finding",
  /// "input", "rule book", "program", "note", "validity", "parts"
  std::string what;
  bool ends_it = false;  ///< what was handed out does not hold any longer because of it
  std::string text;      ///< one sentence
  std::size_t part = 0;  ///< of a run, from 1; 0 where it is so of all of them, or there is one
};

struct PlanComparison {
  std::vector<PlanChange> changes;  ///< those that end it first

  bool still_holds() const { return changes.empty() || !changes.front().ends_it; }
};

/// Compares what was handed out earlier with today's plan, part by part. `today` is the date as
/// YYYY-MM-DD.
///
/// It holds no longer where the train, the route's extent or the conditions are others; where a
/// configuration, a speed, an instruction, or what is done when a pantograph fails has changed;
/// where something forbidden, accepted as a last resort or in need of consent is said that was not
/// said, or the other way round; where either plan is not permitted as it stands; and after the day
/// until which it was to hold; and where the run has another number of parts, whose plans are not
/// compared then. Other changes, as of an input that leads to the same answers, are
/// told and end nothing.
PlanComparison compare_plans(const SaidRun& earlier, const SaidRun& now, std::string_view today);

}  // namespace panup
