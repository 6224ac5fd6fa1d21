#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "line/route.h"
#include "plan/mechanics.h"
#include "plan/plan.h"
#include "rules/judge.h"
#include "rules/rule_book.h"
#include "stock/train.h"

namespace panup {

/// All a plan is made from.
struct PlanRequest {
  Train train;
  Route route;
  Conditions conditions;
  RuleBook rules;
  OutsideRules outside;  ///< asked after the rule book
  SpeedFrom speed_from = SpeedFrom::tables;
  MechanicsSource mechanics;  ///< needed unless the speed is from tables
  int jobs = 0;  ///< threads; 0: as many as the machine has. Changes nothing in the result.
};

/// What is wrong between the files, each being right by itself: ice without an ice speed in the
/// rule book, a consent for a section that the route does not have, more configurations than can
/// be judged. `make_plan` needs an empty answer from here.
Diagnostics cross_check(const PlanRequest& request);

/// The plan for the train along the route, contingencies and instructions included. The same
/// request gives the same plan, whatever `jobs` says. Nothing where the mechanics was stopped.
std::optional<Plan> make_plan(const PlanRequest& request);

/// The cautions that belong on everything handed out: on a plan, or on what `thing` says.
std::vector<std::string> cautions(std::string_view thing = "plan");

}  // namespace panup
