#include "pictures/separation_course.h"

#include <algorithm>
#include <cmath>

#include "pictures/separation_drawing.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

std::vector<PantographRef> raised_in(const SeparationMoment& moment) {
  std::vector<PantographRef> raised;
  for (const Collector& collector : moment.raised.collectors) {
    raised.push_back(collector.ref);
  }
  std::ranges::sort(raised);
  return raised;
}

/// How far the section of the plan is from the separation section; 0 where it reaches it.
double distance_km(const PlannedSection& planned, const SeparationSection& separation) {
  const double to_km = separation.from_km + separation.length_m / 1000;
  return std::max({0.0, planned.from_km - to_km, separation.from_km - planned.to_km});
}

/// The nearest in which what passes it is up: a long train is still in the separation section while
/// its front is in a later section of the plan.
std::size_t planned_section_of(const Plan& plan, const SeparationMoment& moment) {
  const std::vector<PantographRef> raised = raised_in(moment);
  const SeparationSection& separation = plan.route.separations[moment.separation];
  std::size_t nearest = 0;
  double least_km = INFINITY;
  for (std::size_t i = 0; i < plan.sections.size(); ++i) {
    std::vector<PantographRef> up = plan.sections[i].raised;
    std::ranges::sort(up);
    const double away_km = distance_km(plan.sections[i], separation);
    if (up == raised && away_km < least_km) {
      nearest = i;
      least_km = away_km;
    }
  }
  return nearest;
}

/// "if there is a high-voltage line …, which is not stated: "; empty for a chain without.
std::string condition_of(const SeparationMoment& moment, const ForbiddenRange& range,
                         const Words& words) {
  std::string names;
  for (const ChainLink& link : range.chain) {
    if (link.what == ChainLink::What::join && moment.raised.joins[link.index].only_possible) {
      const std::string& name = moment.raised.joins[link.index].name;
      names = names.empty() ? name : words.say("{} and {}", names, name);
    }
  }
  return names.empty() ? "" : words.say("if there is {}, which is not stated: ", names);
}

bool same_harm(const ForbiddenRange& a, const ForbiddenRange& b) {
  return a.why == b.why && a.first_zone == b.first_zone && a.second_zone == b.second_zone;
}

/// What is forbidden holds throughout a stage or nowhere in it.
std::vector<std::string> forbidden_in(const SeparationSection& separation,
                                      const SeparationMoment& moment, const SweptStage& stage,
                                      const Words& language) {
  const double middle = (stage.from_m + stage.to_m) / 2;
  const auto holds = [middle](const ForbiddenRange& range) {
    return range.from_m <= middle && middle <= range.to_m;
  };
  std::vector<std::string> words;
  for (const ForbiddenRange& range : moment.known_forbidden) {
    if (holds(range)) {
      words.push_back(forbidden_words(separation, moment.raised, range, language));
    }
  }
  for (const ForbiddenRange& range : moment.swept.forbidden) {
    const bool known = std::ranges::any_of(
        moment.known_forbidden,
        [&](const ForbiddenRange& other) { return same_harm(range, other) && holds(other); });
    if (holds(range) && !known) {
      words.push_back(condition_of(moment, range, language) +
                      forbidden_words(separation, moment.raised, range, language));
    }
  }
  return words;
}

Json metres_or_null(double at_m) { return std::isfinite(at_m) ? Json(at_m) : Json(nullptr); }

Json zones_to_json(const std::vector<SeparationZone>& zones, const Words& language) {
  Json json = Json::array();
  for (const SeparationZone& zone : zones) {
    json.push_back({{"name", name_of(zone, language)},
                    {"kind", name_of(zone.kind)},
                    {"from_m", metres_or_null(zone.from_m)},
                    {"to_m", metres_or_null(zone.to_m)}});
  }
  return json;
}

Json collectors_to_json(const RaisedCollectors& raised) {
  Json json = Json::array();
  for (const Collector& collector : raised.collectors) {
    json.push_back({{"pantograph", to_string(collector.ref)},
                    {"behind_front_m", collector.behind_front_m},
                    {"strip_extent_m", collector.strip_extent_m}});
  }
  return json;
}

Json joins_to_json(const RaisedCollectors& raised) {
  Json json = Json::array();
  for (const HighVoltageJoin& join : raised.joins) {
    json.push_back({{"name", join.name},
                    {"collectors", join.collectors},
                    {"can_be_opened", join.can_be_opened},
                    {"only_possible", join.only_possible}});
  }
  return json;
}

Json stages_to_json(const std::vector<CourseStage>& stages) {
  Json json = Json::array();
  for (const CourseStage& stage : stages) {
    Json joined = Json::array();
    for (const JoinedZones& zones : stage.swept.joined) {
      joined.push_back({{"zones", zones.zones}, {"collectors", zones.collectors}});
    }
    json.push_back({{"from_m", stage.swept.from_m},
                    {"to_m", stage.swept.to_m},
                    {"touched", stage.swept.touched},
                    {"joined", std::move(joined)},
                    {"forbidden", stage.forbidden}});
  }
  return json;
}

}  // namespace

std::vector<SeparationCourse> separation_courses(const Plan& plan) {
  std::vector<SeparationCourse> courses;
  for (const SeparationMoment& moment : plan.separation_moments) {
    const SeparationSection& separation = plan.route.separations[moment.separation];
    SeparationCourse course{.separation = &separation,
                            .moment = &moment,
                            .section = planned_section_of(plan, moment),
                            .stages = {},
                            .said = separation_words(plan, moment),
                            .words = plan.words};
    for (const SweptStage& stage : moment.swept.stages) {
      course.stages.push_back({stage, forbidden_in(separation, moment, stage, plan.words)});
    }
    courses.push_back(std::move(course));
  }
  return courses;
}

Json separation_courses_to_json(const std::vector<SeparationCourse>& courses) {
  Json json = Json::array();
  for (const SeparationCourse& course : courses) {
    const auto& decides = course.moment->moment;
    json.push_back({{"separation", course.moment->separation},
                    {"section", course.section},
                    {"zones", zones_to_json(course.separation->zones, course.words)},
                    {"collectors", collectors_to_json(course.moment->raised)},
                    {"joins", joins_to_json(course.moment->raised)},
                    {"stages", stages_to_json(course.stages)},
                    {"deciding_m", decides ? Json(decides->front_m) : Json(nullptr)},
                    {"reserve_m", decides ? Json(decides->reserve_m) : Json(nullptr)},
                    {"said", course.said}});
  }
  return json;
}

}  // namespace panup
