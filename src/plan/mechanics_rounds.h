#pragma once

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "plan/make_plan.h"

namespace panup {

/// Does `once(request, speeds)` with what is known of the speeds by the mechanics, and again until
/// it asks for none that is not known. `speeds` is null where the speeds are from tables: then it
/// is done once. Nothing where the mechanics was stopped.
template <typename Once>
auto with_mechanics(const PlanRequest& request, const Once& once)
    -> std::optional<decltype(once(request, nullptr))> {
  if (request.speed_from == SpeedFrom::tables) {
    return once(request, nullptr);
  }
  MechanicsSpeeds speeds(request.rules, request.speed_from, request.conditions.temperature_c);
  PlanRequest with = request;
  OutsideRules rules = speeds.rules();
  std::ranges::move(rules.further, std::back_inserter(with.outside.further));
  with.outside.spacing_yields = std::move(rules.spacing_yields);
  while (true) {
    auto result = once(with, &speeds);
    const std::vector<MechanicsQuestion> questions = speeds.take_questions();
    if (questions.empty()) {
      return result;
    }
    auto answers = request.mechanics(questions);
    if (!answers) {
      return std::nullopt;
    }
    speeds.learn(questions, std::move(*answers));
  }
}

}  // namespace panup
