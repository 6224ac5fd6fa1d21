#include "base/handed_out.h"
#include "drawing/json_text.h"
#include "figures/envelope.h"
#include "figures/permitted_json.h"
#include "figures/permitted_words.h"
#include "figures/simulation.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// One value of each cell, by distance, then by speed.
template <typename Value>
Json by_cell(const Envelope& envelope, const Value& value) {
  Json rows = Json::array();
  for (const std::vector<EnvelopeCell>& cells : envelope.cells) {
    Json row = Json::array();
    for (const EnvelopeCell& cell : cells) {
      row.push_back(value(cell));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

/// One value of each distance.
template <typename Value>
Json by_distance(const Envelope& envelope, const Value& value) {
  Json values = Json::array();
  for (const PermittedSpeed& speed : envelope.permitted) {
    values.push_back(value(speed));
  }
  return values;
}

Json published_to_json(const Envelope& envelope) {
  Json json = Json::array();
  for (const PublishedSpeeds& published : envelope.published) {
    Json steps = Json::array();
    for (const PublishedStep& step : published.steps) {
      steps.push_back({{"distance_m", step.distance_m}, {"speed_kmh", step.speed_kmh}});
    }
    json.push_back({{"design_type", name_of(published.type)}, {"steps", std::move(steps)}});
  }
  return json;
}

Json bands_to_json(const Envelope& envelope) {
  Json json = Json::array();
  for (const FailingBand& band : failing_bands(envelope)) {
    json.push_back({{"spacing_m", band.spacing_m},
                    {"from_kmh", band.from_kmh},
                    {"to_kmh", band.to_kmh},
                    {"passes_again_kmh", band.passes_again_kmh},
                    {"criterion", band.criterion}});
  }
  return json;
}

Json samples_to_json(const Envelope& envelope) {
  if (envelope.samples.empty()) {
    return nullptr;
  }
  Json json;
  json["seed"] = envelope.seed;
  json["tolerances"] = envelope.tolerances;
  json["permitted_speed_kmh"] = Json::array();
  for (const SampledSpeeds& samples : envelope.samples) {
    json["permitted_speed_kmh"].push_back(samples.permitted_speed_kmh);
  }
  return json;
}

Json hangs_on_to_json(const std::optional<HangsOn>& hangs_on) {
  if (!hangs_on) {
    return nullptr;
  }
  Json inputs = Json::array();
  for (const InputEffect& input : hangs_on->inputs) {
    inputs.push_back({{"input", input.input},
                      {"tolerance", input.tolerance},
                      {"least", input.least},
                      {"greatest", input.greatest}});
  }
  return {{"speed_kmh", hangs_on->speed_kmh},
          {"pantograph", hangs_on->pantograph},
          {"figure", hangs_on->is_loss ? "contact_loss_percent" : "std_n"},
          {"value", hangs_on->figure},
          {"inputs", std::move(inputs)}};
}

}  // namespace

Json envelope_to_json(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
  json["line"] = Json{
      {"id", envelope.line_id}, {"name", envelope.line_name}, {"source", envelope.line_source}};
  json["pantograph"] = Json{{"id", envelope.pantograph_id},
                            {"name", envelope.pantograph_name},
                            {"source", envelope.pantograph_source}};
  json["invented"] = envelope.invented;
  json["energy_supply"] = envelope.supply ? Json(name_of(*envelope.supply)) : Json(nullptr);
  json["static_force_n"] = envelope.static_force_n;
  json["count"] = envelope.count;
  json["knuckles"] = Json::array();
  for (const Knuckle knuckle : envelope.knuckles) {
    json["knuckles"].push_back(name_of(knuckle));
  }
  json["conditions"] = weather_to_json(envelope.weather);
  json["wave_speed_kmh"] = envelope.wave_speed_kmh;
  json["spacings_m"] = envelope.spacings_m;
  json["speeds_kmh"] = envelope.speeds_kmh;
  json["passes"] = by_cell(envelope, [](const EnvelopeCell& cell) { return cell.passes; });
  json["permitted_speed_kmh"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.speed_kmh; });
  json["deciding_criterion"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.criterion; });
  json["deciding_margin"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.margin; });
  json["deciding_pantograph"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.pantograph; });
  json["deciding_text"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.text; });
  json["fails_at_kmh"] = by_distance(envelope, [](const PermittedSpeed& speed) {
    return speed.fails_at_kmh ? Json(*speed.fails_at_kmh) : Json(nullptr);
  });
  json["edge_error_kmh"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.edge_error_kmh; });
  json["step_kmh"] =
      by_distance(envelope, [](const PermittedSpeed& speed) { return speed.step_kmh; });
  json["no_run"] = by_distance(envelope, [](const PermittedSpeed& speed) { return speed.refused; });
  json["warnings"] = by_distance(envelope, [&report](const PermittedSpeed& speed) {
    return warnings_to_json(speed, report.words);
  });
  json["by_supports"] = by_distance(envelope, by_supports_to_json);
  json["hangs_on"] = by_distance(
      envelope, [](const PermittedSpeed& speed) { return hangs_on_to_json(speed.hangs_on); });
  json["failing_bands"] = bands_to_json(envelope);
  json["margins"] = by_cell(envelope, [](const EnvelopeCell& cell) { return cell.margin; });
  json["coarse"] = by_cell(envelope, [](const EnvelopeCell& cell) { return cell.coarse; });
  json["criteria_at"] = by_cell(envelope, [](const EnvelopeCell& cell) { return cell.criterion; });
  json["pantograph_at"] =
      by_cell(envelope, [](const EnvelopeCell& cell) { return cell.pantograph; });
  json["knuckle_at"] =
      by_cell(envelope, [](const EnvelopeCell& cell) { return name_of(cell.knuckle); });
  json["published"] = published_to_json(envelope);
  json["published_source"] = envelope.published_source;
  json["samples"] = samples_to_json(envelope);
  json["criteria"] = envelope.criteria;
  json["not_judged"] = envelope.not_judged;
  json["rule_books"] = report.rule_books;
  json["inputs"] = inputs_to_json(report.inputs);
  json["notes"] = notes_of(envelope, report.words);
  json["cautions"] = cautions("result", report.words);
  return json;
}

}  // namespace panup
