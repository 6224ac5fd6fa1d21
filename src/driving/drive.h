#pragma once
/// The room `driving`: a driver who obeys. It takes the written orders of a plan and does what they
/// say, word by word, with nothing else in mind; then it looks at every metre of what came of it:
/// which collector heads touched which wire, which breakers were closed where, how fast the train
/// ran. It holds that against the route and the train alone. It knows nothing of how orders are
/// made: that is why it can find what is wrong with them.

#include <optional>
#include <string>
#include <vector>

#include "plan/make_plan.h"

namespace panup {

/// Something that an obedient driver does, and nobody may.
struct DrivenFault {
  double at_km = 0;  ///< of the front of the train
  std::string what;  ///< "1.1 is up within 'Works at Orr', km 4.200 to 4.600"
};

/// What a plan is driven by: the times the driver and the breakers take, and what of the line
/// holds.
struct DrivenRules {
  double reaction_s = 0;
  double breaker_s = 0;
  bool line_speed = true;
  bool records = true;  ///< number and distance of raised pantographs
  bool record_speeds = true;
  bool boards = true;           ///< of the line, for stretches passed without power
  bool standing_places = true;  ///< where no raised pantograph may stand at a stop
};

/// What the rule book leaves in force. Where the speed is from the mechanics, that of a record does
/// not bind.
DrivenRules driven_rules(const RuleBook& rules, SpeedFrom speed_from = SpeedFrom::tables);

/// What is driven.
struct DrivenOrders {
  const Train& train;
  const Route& route;
  const std::vector<Instruction>& orders;
  std::optional<PantographRef> failed = std::nullopt;  ///< defective besides those of the train
  Words words = {};                                    ///< in which faults are said
};

/// What an obedient driver does wrong, by rising chainage; empty if nothing. A place counts where a
/// fault begins: what goes on is said once. Every time is taken on the side that is worse: a
/// pantograph that is ordered up may touch the wire at once, one that is ordered down touches it
/// until reaction and lowering time are over, at the speed ordered; breakers likewise.
std::vector<DrivenFault> drive(const DrivenOrders& driven, const DrivenRules& rules);

/// The same for all that a plan hands out: its orders, those for every pantograph that may have
/// failed from the start, and what goes up where one fails on the road.
std::vector<DrivenFault> drive(const Plan& plan, const DrivenRules& rules);

/// Throws `std::logic_error`, with the first place, if an obedient driver of the plan would do
/// wrong.
void must_hold_when_driven(const Plan& plan, const DrivenRules& rules);

/// Throws `std::logic_error` if a breaker is closed or a pantograph up where the orders end.
void must_stand_dead_at_end(const Plan& plan);

/// Makes the plan, and drives it before anybody sees it. Nothing if it was stopped. Throws
/// `std::logic_error`, with the place, if a driver who obeys would do wrong: that is a fault of the
/// program.
std::optional<Plan> make_driven_plan(const PlanRequest& request);

/// The same of a part of a run, with what the driver does where it ends: nothing may be live
/// there. `changes`: of the train's vehicles; none where the run ends.
std::optional<Plan> make_driven_part(const PlanRequest& request,
                                     const std::vector<std::string>& changes);

}  // namespace panup
