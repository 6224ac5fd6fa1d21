#include "day/change_json.h"

#include "day/outcome_json.h"
#include "drawing/json_text.h"
#include "render/json_parts.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json to_json(const HowItRuns& runs) {
  Json json;
  json["answer"] = name_of(runs.answer);
  json["lowered_for"] = runs.lowered_for.empty() ? Json(nullptr) : Json(runs.lowered_for);
  json["raised"] = refs_to_json(runs.raised);
  json["put_dead_in_tow"] = runs.put_dead_in_tow;
  json["speed_kmh"] = runs.speed_kmh;
  json["speed_reason"] = runs.speed_reason;
  json["least_distance_m"] = optional_to_json(runs.least_distance_m);
  json["energy_supply"] = runs.supply ? Json(name_of(*runs.supply)) : Json(nullptr);
  json["iced"] = runs.iced;
  json["reversed"] = runs.reversed;
  return json;
}

Json to_json(const WhatRemains& remains) {
  Json json;
  json["answer"] = name_of(remains.answer);
  json["raised"] = refs_to_json(remains.raised);
  json["put_dead_in_tow"] = remains.put_dead_in_tow;
  json["speed_kmh"] = remains.speed_kmh;
  json["reaches_km"] = optional_to_json(remains.reaches_km);
  json["stranded"] = remains.stranded;
  return json;
}

Json to_json(const ReadOrder& order) {
  return Json{{"at_km", order.at_km},
              {"action", order.action},
              {"text", order.text},
              {"if_not_possible", order.if_not_possible}};
}

template <typename Thing>
Json thing_or_null(const std::optional<Thing>& thing) {
  return thing ? to_json(*thing) : Json(nullptr);
}

template <typename Thing>
Json changed_to_json(const std::vector<ChangedStretch<Thing>>& stretches) {
  Json json = Json::array();
  for (const ChangedStretch<Thing>& stretch : stretches) {
    json.push_back(Json{{"from_km", stretch.from_km},
                        {"to_km", stretch.to_km},
                        {"before", thing_or_null(stretch.how.before)},
                        {"then", thing_or_null(stretch.how.then)}});
  }
  return json;
}

Json orders_to_json(const std::vector<BeforeAndThen<ReadOrder>>& orders) {
  Json json = Json::array();
  for (const auto& order : orders) {
    json.push_back(Json{{"how", !order.before ? "new"
                                : !order.then ? "dropped"
                                              : "other"},
                        {"before", thing_or_null(order.before)},
                        {"then", thing_or_null(order.then)}});
  }
  return json;
}

Json sayings_to_json(const std::vector<ChangedSaying>& sayings) {
  Json json = Json::array();
  for (const ChangedSaying& said : sayings) {
    json.push_back(Json{{"rule", said.rule},
                        {"text", said.text},
                        {"before", stretches_to_json(said.before)},
                        {"then", stretches_to_json(said.then)}});
  }
  return json;
}

Json consents_to_json(const std::vector<ConsentName>& consents) {
  Json json = Json::array();
  for (const ConsentName& consent : consents) {
    json.push_back(Json{{"reference", consent.reference}, {"given_by", consent.given_by}});
  }
  return json;
}

Json answer_or_null(const std::optional<Answer>& answer) {
  return answer ? Json(name_of(*answer)) : Json(nullptr);
}

Json failures_to_json(const std::vector<ChangedFailure>& failures) {
  Json json = Json::array();
  for (const ChangedFailure& failure : failures) {
    json.push_back(Json{{"failed", to_string(failure.failed)},
                        {"answer_before", answer_or_null(failure.answer.before)},
                        {"answer_then", answer_or_null(failure.answer.then)},
                        {"before_departure", changed_to_json(failure.before_departure)},
                        {"on_the_road", changed_to_json(failure.on_the_road)}});
  }
  return json;
}

}  // namespace

Json change_to_json(const TrainChange& change) {
  Json json;
  json["change"] = name_of(change.fate);
  json["card_again"] = change.card_again;
  json["card_says_else_of"] = change.card_parts;
  json["longer_s"] = optional_to_json(change.longer_s);
  json["stretches"] = changed_to_json(change.stretches);
  json["orders"] = orders_to_json(change.orders);
  json["forbidden"] = sayings_to_json(change.forbidden);
  json["consents_missing"] = sayings_to_json(change.consents_missing);
  json["last_resorts"] = sayings_to_json(change.last_resorts);
  json["consents_newly_used"] = consents_to_json(change.consents_newly_used);
  json["consents_no_longer_used"] = consents_to_json(change.consents_no_longer_used);
  json["failures"] = failures_to_json(change.failures);
  return json;
}

}  // namespace panup
