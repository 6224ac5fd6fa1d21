#include "day/outcome_json.h"

#include "render/json_parts.h"

namespace panup {

using Json = nlohmann::ordered_json;

Json stretches_to_json(const std::vector<KmStretch>& stretches) {
  Json json = Json::array();
  for (const KmStretch& stretch : stretches) {
    json.push_back(Json{{"from_km", stretch.from_km}, {"to_km", stretch.to_km}});
  }
  return json;
}

namespace {

Json said_to_json(const std::vector<SaidWhere>& all) {
  Json json = Json::array();
  for (const SaidWhere& said : all) {
    json.push_back(
        Json{{"rule", said.rule}, {"text", said.text}, {"where", stretches_to_json(said.where)}});
  }
  return json;
}

std::vector<SaidWhere> said_from_json(const Json& json) {
  std::vector<SaidWhere> all;
  for (const Json& said : json) {
    SaidWhere one{said.at("rule"), said.at("text"), {}};
    for (const Json& where : said.at("where")) {
      one.where.push_back({where.at("from_km"), where.at("to_km")});
    }
    all.push_back(std::move(one));
  }
  return all;
}

Json consents_to_json(const std::vector<ConsentName>& consents, bool why) {
  Json json = Json::array();
  for (const ConsentName& consent : consents) {
    Json one{{"reference", consent.reference}, {"given_by", consent.given_by}};
    if (why) {
      one["because"] = consent.because;
    }
    json.push_back(std::move(one));
  }
  return json;
}

std::vector<ConsentName> consents_from_json(const Json& json) {
  std::vector<ConsentName> consents;
  for (const Json& one : json) {
    consents.push_back({one.at("reference"), one.at("given_by"), one.value("because", "")});
  }
  return consents;
}

std::optional<Decision> decision_named(const std::string& name) {
  for (std::size_t i = 0; i < decisions; ++i) {
    const auto decision = static_cast<Decision>(i);
    if (name_of(decision) == name) {
      return decision;
    }
  }
  return std::nullopt;
}

}  // namespace

Json outcome_to_json(const TrainOutcome& outcome) {
  Json json;
  if (outcome.language != Words().language()) {
    json["language"] = outcome.language;
  }
  json["decision"] = name_of(outcome.decision);
  json["answer"] = outcome.answer;
  json["train"] = Json{{"id", outcome.train_id}, {"name", outcome.train_name}};
  json["route"] = Json{{"id", outcome.route_id}, {"name", outcome.route_name}};
  json["invented"] = outcome.invented;
  json["vehicles"] = outcome.vehicles;
  json["least_speed"] = outcome.slowest ? Json{{"speed_kmh", outcome.slowest->speed_kmh},
                                               {"from_km", outcome.slowest->where.from_km},
                                               {"to_km", outcome.slowest->where.to_km},
                                               {"reason", outcome.slowest->reason}}
                                        : Json(nullptr);
  json["forbidden"] = said_to_json(outcome.forbidden);
  json["consents_missing"] = said_to_json(outcome.consents_missing);
  json["without_consent"] = outcome.without_consent;
  json["last_resorts"] = said_to_json(outcome.last_resorts);
  json["consents_used"] = consents_to_json(outcome.consents_used, false);
  json["consents_not_counting"] = consents_to_json(outcome.consents_not_counting, true);
  Json defects = Json::array();
  for (const DefectName& defect : outcome.defects) {
    defects.push_back(Json{{"vehicle", defect.vehicle},
                           {"pantograph", defect.pantograph},
                           {"reference", defect.reference},
                           {"still_possible", defect.still_possible}});
  }
  json["defects"] = std::move(defects);
  json["running_time_s"] = outcome.running_time_s;
  json["orders"] = outcome.orders;
  json["inputs_sha256"] = outcome.inputs_sha256;
  json["mistakes"] = diagnostics_to_json(outcome.mistakes);
  json["fault"] = outcome.fault;
  return json;
}

std::optional<TrainOutcome> outcome_from_json(const Json& json) {
  try {
    TrainOutcome outcome;
    const auto decision = decision_named(json.at("decision"));
    if (!decision) {
      return std::nullopt;
    }
    outcome.language = json.value("language", outcome.language);
    outcome.decision = *decision;
    outcome.answer = json.at("answer");
    outcome.train_id = json.at("train").at("id");
    outcome.train_name = json.at("train").at("name");
    outcome.route_id = json.at("route").at("id");
    outcome.route_name = json.at("route").at("name");
    outcome.invented = json.at("invented");
    outcome.vehicles = json.at("vehicles").get<std::vector<std::string>>();
    if (const Json& least = json.at("least_speed"); !least.is_null()) {
      outcome.slowest = SlowestStretch{
          least.at("speed_kmh"), {least.at("from_km"), least.at("to_km")}, least.at("reason")};
    }
    outcome.forbidden = said_from_json(json.at("forbidden"));
    outcome.consents_missing = said_from_json(json.at("consents_missing"));
    outcome.without_consent = json.at("without_consent");
    outcome.last_resorts = said_from_json(json.at("last_resorts"));
    outcome.consents_used = consents_from_json(json.at("consents_used"));
    outcome.consents_not_counting = consents_from_json(json.at("consents_not_counting"));
    for (const Json& defect : json.at("defects")) {
      outcome.defects.push_back({defect.at("vehicle"), defect.at("pantograph"),
                                 defect.at("reference"), defect.at("still_possible")});
    }
    outcome.running_time_s = json.at("running_time_s");
    outcome.orders = json.at("orders");
    outcome.inputs_sha256 = json.at("inputs_sha256");
    for (const Json& mistake : json.at("mistakes")) {
      outcome.mistakes.push_back(
          {{mistake.at("file"), mistake.at("line"), mistake.at("column")}, mistake.at("text")});
    }
    outcome.fault = json.at("fault");
    return outcome;
  } catch (const Json::exception&) {
    return std::nullopt;
  }
}

}  // namespace panup
