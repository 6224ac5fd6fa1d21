#pragma once

#include <nlohmann/json.hpp>

#include "plan/plan.h"

namespace panup {

/// As wide as the page shows a train on a common screen, so that type is of its usual size there.
inline constexpr double picture_width_pt = 960;

/// What the page draws of a plan: pictures of the train, and for each section which of them shows
/// what is up there.
struct PlanPictures {
  nlohmann::ordered_json pictures = nlohmann::ordered_json::array();
  nlohmann::ordered_json section_pictures = nlohmann::ordered_json::array();
};

PlanPictures pictures_of(const Plan& plan);

/// How the train passes each separation section.
nlohmann::ordered_json separation_courses_of(const Plan& plan);

}  // namespace panup
