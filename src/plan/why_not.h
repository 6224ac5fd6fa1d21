#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/make_plan.h"

namespace panup {

/// Why a configuration is not the plan's at a place.
struct WhyNot {
  double at_km = 0;
  std::vector<PantographRef> asked;    ///< front first
  std::vector<PantographRef> planned;  ///< what the plan has up there; front first
  bool is_planned = false;             ///< it is the plan's own
  Answer answer = Answer::permitted;   ///< of the asked configuration, there
  /// What rules it out, or the step of the ladder at which it loses, with the place; then what else
  /// differs along the route.
  std::string summary;
  double speed_kmh = 0;  ///< it could run there; 0 where forbidden
  /// Over the whole route, if it were used there. Nothing where the two ways cannot be compared:
  /// where one of them runs a stretch that the other does not, or one asks for consent elsewhere
  /// and the other does not. Below zero only where a higher step of the ladder is lost, which the
  /// summary names.
  std::optional<double> extra_time_s;
  std::vector<Finding> findings;  ///< what the rules say of it, the strongest first
};

/// Answers for the configuration `asked` at `at_km`. The plan must have been made from `request`,
/// every pantograph of `asked` must stand on the train, and `at_km` within the route. Nothing where
/// it or the mechanics was stopped.
std::optional<WhyNot> why_not(const PlanRequest& request, const Plan& plan,
                              const std::vector<PantographRef>& asked, double at_km);

}  // namespace panup
