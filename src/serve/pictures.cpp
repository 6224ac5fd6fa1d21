#include "serve/pictures.h"

namespace panup {

PlanPictures pictures_of(const Plan& /*plan*/) { return {}; }

nlohmann::ordered_json separation_courses_of(const Plan& /*plan*/) {
  return nlohmann::ordered_json::array();
}

}  // namespace panup
