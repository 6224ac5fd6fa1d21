#include "render/plan_json.h"

#include "drawing/json_text.h"
#include "render/json_parts.h"
#include "wording/headline.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json route_to_json(const Plan& plan) {
  const Route& route = plan.route;
  Json json;
  json["id"] = route.id;
  json["name"] = route.name;
  json["invented"] = route.invented;
  const double from = route.sections.empty() ? 0 : departure_km(route);
  const double to = route.sections.empty() ? 0 : route.sections.back().to_km;
  json["from_km"] = from;
  json["to_km"] = to;
  json["length_km"] = to - from;
  return json;
}

Json conditions_to_json(const Conditions& conditions) {
  Json json;
  json["name"] = conditions.name;
  json["invented"] = conditions.invented;
  json["temperature_c"] = optional_to_json(conditions.temperature_c);
  json["wind_ms"] = optional_to_json(conditions.wind_ms);
  Json ice = Json::array();
  for (const IceStretch& stretch : conditions.ice) {
    ice.push_back(Json{{"from_km", stretch.from_km}, {"to_km", stretch.to_km}});
  }
  json["ice"] = std::move(ice);
  Json local = Json::array();
  for (const LocalWeather& weather : conditions.local) {
    local.push_back(Json{{"from_km", weather.from_km},
                         {"to_km", weather.to_km},
                         {"temperature_c", optional_to_json(weather.temperature_c)},
                         {"wind_ms", optional_to_json(weather.wind_ms)}});
  }
  json["local"] = std::move(local);
  return json;
}

Json lines_to_json(const std::vector<LineStretch>& stretches) {
  Json json = Json::array();
  for (const LineStretch& stretch : stretches) {
    json.push_back(
        Json{{"line", stretch.line}, {"from_km", stretch.from_km}, {"to_km", stretch.to_km}});
  }
  return json;
}

Json section_to_json(const Plan& plan, const PlannedSection& section) {
  Json json;
  json["from_km"] = section.from_km;
  json["to_km"] = section.to_km;
  const bool known = section.section < plan.route.sections.size();
  json["section"] = known ? Json(plan.route.sections[section.section].id) : Json(nullptr);
  json["lines"] = lines_to_json(stretches_on_lines(plan.route, section.from_km, section.to_km));
  json["energy_supply"] = section.supply ? Json(name_of(*section.supply)) : Json(nullptr);
  json["iced"] = section.iced;
  json["reversed"] = section.reversed;
  json["lowered_for"] = section.lowered_for.empty() ? Json(nullptr) : Json(section.lowered_for);
  json["answer"] = name_of(section.answer);
  json["raised"] = refs_to_json(section.raised);
  json["put_dead_in_tow"] = section.put_dead_in_tow;
  json["speed_kmh"] = section.speed_kmh;
  json["speed_rule"] = section.speed_rule;
  json["speed_reason"] = section.speed_reason;
  json["permitted_speed_kmh"] = section.permitted_speed_kmh;
  json["least_distance_m"] = optional_to_json(section.least_distance_m);
  json["exposed_loads"] = exposed_to_json(section.exposed);
  json["findings"] = findings_to_json(section.findings);
  return json;
}

Json sections_to_json(const Plan& plan, const std::vector<PlannedSection>& sections) {
  Json json = Json::array();
  for (const PlannedSection& section : sections) {
    json.push_back(section_to_json(plan, section));
  }
  return json;
}

Json instruction_to_json(const Instruction& instruction) {
  Json json;
  json["at_km"] = instruction.at_km;
  json["action"] = name_of(instruction.action);
  json["vehicle"] = instruction.vehicle > 0 ? Json(instruction.vehicle) : Json(nullptr);
  json["vehicles"] = instruction.vehicles;
  json["pantographs"] = refs_to_json(instruction.pantographs);
  json["speed_kmh"] =
      instruction.action == Action::speed ? Json(instruction.speed_kmh) : Json(nullptr);
  json["power_percent"] =
      instruction.power_percent ? Json(*instruction.power_percent) : Json(nullptr);
  json["current_a"] = optional_to_json(instruction.current_a);
  json["line"] = instruction.on_line ? Json(instruction.on_line->line) : Json(nullptr);
  json["line_km"] = instruction.on_line ? Json(instruction.on_line->at_km) : Json(nullptr);
  json["landmark"] = instruction.landmark;
  json["text"] = instruction.text;
  json["if_not_possible"] = instruction.if_not_possible;
  return json;
}

Json road_failure_to_json(const RoadFailure& failure) {
  Json json;
  json["from_km"] = failure.from_km;
  json["to_km"] = failure.to_km;
  json["answer"] = name_of(failure.answer);
  json["raised"] = refs_to_json(failure.raised);
  json["put_dead_in_tow"] = failure.put_dead_in_tow;
  json["speed_kmh"] = failure.speed_kmh;
  json["reaches_km"] = failure.reaches_km;
  json["stranded"] = failure.stranded;
  json["exposed_loads"] = exposed_to_json(failure.exposed);
  json["text"] = failure.text;
  return json;
}

Json contingency_to_json(const Plan& plan, const Contingency& contingency) {
  Json json;
  json["failed"] = to_string(contingency.failed);
  json["answer"] = name_of(contingency.answer);
  json["changes_the_plan"] = contingency.changes_the_plan;
  json["running_time_s"] = contingency.running_time_s;
  json["sections"] = sections_to_json(plan, contingency.sections);
  Json road = Json::array();
  for (const RoadFailure& failure : contingency.on_the_road) {
    road.push_back(road_failure_to_json(failure));
  }
  json["on_the_road"] = std::move(road);
  return json;
}

Json contingency_in_short(const Contingency& contingency) {
  Json json;
  json["failed"] = to_string(contingency.failed);
  json["answer"] = name_of(contingency.answer);
  json["running_time_s"] = contingency.running_time_s;
  Json speeds = Json::array();
  for (const PlannedSection& section : contingency.sections) {
    speeds.push_back(Json{
        {"from_km", section.from_km}, {"to_km", section.to_km}, {"speed_kmh", section.speed_kmh}});
  }
  json["speeds"] = std::move(speeds);
  return json;
}

Json release_to_json(const Release& release) {
  const auto stated = [](const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
  };
  Json json;
  json["train_number"] = stated(release.train_number);
  json["date"] = stated(release.date);
  json["days"] = stated(release.days);
  json["issue"] = release.issue ? Json(*release.issue) : Json(nullptr);
  json["made_by"] = stated(release.made_by);
  json["checked_by"] = stated(release.checked_by);
  json["released_by"] = stated(release.released_by);
  json["holds_until"] = stated(release.holds_until);
  Json deviations = Json::array();
  for (const Deviation& deviation : release.deviations) {
    deviations.push_back(
        Json{{"what", deviation.what}, {"by", deviation.by}, {"reason", deviation.reason}});
  }
  json["deviations"] = std::move(deviations);
  return json;
}

Json overrides_to_json(const std::vector<Override>& overrides) {
  Json json = Json::array();
  for (const Override& override : overrides) {
    json.push_back(Json{{"rule", override.id},
                        {"earlier_book", override.earlier_book},
                        {"later_book", override.later_book},
                        {"keys", override.what}});
  }
  return json;
}

/// `contingencies`: as they are to stand in it.
Json plan_with(const Plan& plan, Json contingencies) {
  Json json;
  json["program_version"] = plan.program_version;
  add_language(json, plan.words);
  json["answer"] = name_of(plan.answer);
  json["headline"] = headline(plan);
  json["last_resort_accepted"] = !last_resorts(plan).empty();
  json["train"] = train_to_json(plan.train);
  json["route"] = route_to_json(plan);
  json["conditions"] = conditions_to_json(plan.conditions);
  json["release"] = release_to_json(plan.train.release);
  json["inputs"] = inputs_to_json(plan.inputs);
  json["rule_books"] = plan.rule_books;
  json["speed_from"] = name_of(plan.speed_from);
  json["overrides"] = overrides_to_json(plan.overrides);
  json["running_time_s"] = plan.running_time_s;
  json["sections"] = sections_to_json(plan, plan.sections);
  Json instructions = Json::array();
  for (const Instruction& instruction : plan.instructions) {
    instructions.push_back(instruction_to_json(instruction));
  }
  json["instructions"] = std::move(instructions);
  json["contingencies"] = std::move(contingencies);
  json["notes"] = plan.notes;
  json["cautions"] = plan.cautions;
  return json;
}

}  // namespace

Json plan_to_json(const Plan& plan) {
  Json contingencies = Json::array();
  for (const Contingency& contingency : plan.contingencies) {
    contingencies.push_back(contingency_to_json(plan, contingency));
  }
  return plan_with(plan, std::move(contingencies));
}

Json plan_in_short_to_json(const Plan& plan) {
  Json contingencies = Json::array();
  for (const Contingency& contingency : plan.contingencies) {
    contingencies.push_back(contingency_in_short(contingency));
  }
  return plan_with(plan, std::move(contingencies));
}

}  // namespace panup
