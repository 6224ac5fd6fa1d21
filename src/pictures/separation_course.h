#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "drawing/picture.h"
#include "plan/plan.h"

namespace panup {

/// A stage of the sweep, with what is forbidden there in words: "joins phase R with phase S through
/// 1.1". Where a join that is only possible has a part in it, the words begin with "if there is".
struct CourseStage {
  SweptStage swept;
  std::vector<std::string> forbidden;
};

/// A separation section being passed in a configuration, stage by stage, with the main circuit
/// breaker open. Positions are those of the front of the train in metres from where the section
/// begins.
struct SeparationCourse {
  const SeparationSection* separation = nullptr;  ///< of the plan
  const SeparationMoment* moment = nullptr;       ///< likewise
  /// Index into `Plan::sections`: the first in which the train passes it so.
  std::size_t section = 0;
  std::vector<CourseStage> stages;
  std::string said;  ///< as `separation_words`
  Words words = {};  ///< of the plan
};

/// One for each of `Plan::separation_moments`, in their order. They point into the plan.
std::vector<SeparationCourse> separation_courses(const Plan& plan);

/// `[{separation, section, zones: [{name, kind, from_m, to_m}], collectors: [{pantograph,
/// behind_front_m, strip_extent_m}], joins: [{name, collectors, can_be_opened, only_possible}],
/// stages: [{from_m, to_m, touched, joined: [{zones, collectors}], forbidden}], deciding_m,
/// reserve_m, said}]`. Zones, collectors and joins are referred to by index; `touched` by
/// collector; an end of a zone that lies beyond all that matters is null, as are `deciding_m` and
/// `reserve_m` where no length of contact strips does harm.
nlohmann::ordered_json separation_courses_to_json(const std::vector<SeparationCourse>& courses);

/// The section at the moment that decides, as the report shows it. Marks and places belong to
/// "zone 0", …, "pantograph 1.1", … and "join 0", …; marks of the text below to "scale".
Picture separation_picture(const Plan& plan, const SeparationMoment& moment, double width);

}  // namespace panup
