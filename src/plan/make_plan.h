#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "judging/judge.h"
#include "line/route.h"
#include "plan/mechanics.h"
#include "plan/plan.h"
#include "rules/rule_book.h"
#include "stock/train.h"

namespace panup {

/// All a plan is made from.
struct PlanRequest {
  Train train;
  Route route;
  Conditions conditions;
  RuleBook rules;
  SpeedFrom speed_from = SpeedFrom::tables;
  MechanicsSource mechanics;  ///< needed unless the speed is from tables
  /// What is known of them while the plan is made: `make_plan` sets it.
  ComputedSpeeds* computed_speeds = nullptr;
  /// Configurations, over all pieces of the route that differ, up to which each one is judged. Of
  /// trains with more those that serve the ladder are searched for, and the plan says so.
  std::size_t most_judged = 1'000'000;
  int jobs = 0;  ///< threads; 0: as many as the machine has. Changes nothing in the result.
  /// Whether nobody waits for the plan any more: then it is given up soon. Asked from many threads.
  std::function<bool()> stopped = {};
};

/// What is wrong between the files, each being right by itself: ice without an ice speed in the
/// rule book, a consent for a section that the route does not have. `make_plan` needs an empty
/// answer from here.
Diagnostics cross_check(const PlanRequest& request);

/// The plan for the train along the route, contingencies and instructions included. The same
/// request gives the same plan, whatever `jobs` says. Nothing where it or the mechanics was
/// stopped.
std::optional<Plan> make_plan(const PlanRequest& request);

}  // namespace panup
