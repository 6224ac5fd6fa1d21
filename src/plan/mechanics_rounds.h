#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "plan/make_plan.h"
#include "plan/stopped.h"

namespace panup {

/// What `with_mechanics` does, but that it may throw `PlanningStopped`.
template <typename Once>
auto with_mechanics_unless_stopped(const PlanRequest& request, const Once& once)
    -> std::optional<decltype(once(request, nullptr))> {
  if (request.speed_from == SpeedFrom::tables) {
    return once(request, nullptr);
  }
  MechanicsSpeeds speeds(request.speed_from, request.conditions.temperature_c, request.rules.words);
  PlanRequest with = request;
  with.computed_speeds = &speeds;
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

/// Does `once(request, speeds)` with what is known of the speeds by the mechanics, and again until
/// it asks for none that is not known. `speeds` is null where the speeds are from tables: then it
/// is done once. Nothing where it or the mechanics was stopped.
template <typename Once>
auto with_mechanics(const PlanRequest& request, const Once& once)
    -> std::optional<decltype(once(request, nullptr))> {
  try {
    return with_mechanics_unless_stopped(request, once);
  } catch (const PlanningStopped&) {
    return std::nullopt;
  }
}

}  // namespace panup
