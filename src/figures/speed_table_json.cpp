#include "base/handed_out.h"
#include "drawing/json_text.h"
#include "figures/permitted_json.h"
#include "figures/permitted_words.h"
#include "figures/sample_shares.h"
#include "figures/simulation.h"
#include "figures/speed_table.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json row_to_json(const SpeedTableReport& report, const SpeedTableRow& row) {
  const PermittedSpeed& speed = row.permitted;
  Json json;
  json["line"] = report.lines[row.line].id;
  json["pantograph"] = report.pantographs[row.pantograph].id;
  json["count"] = row.count;
  json["distance_m"] = row.count > 1 ? Json(row.spacing_m) : Json(nullptr);
  json["permitted_speed_kmh"] = speed.speed_kmh;
  json["fails_at_kmh"] = speed.fails_at_kmh ? Json(*speed.fails_at_kmh) : Json(nullptr);
  json["edge_error_kmh"] = speed.edge_error_kmh;
  json["step_kmh"] = speed.step_kmh;
  json["deciding_criterion"] = speed.criterion;
  json["deciding_margin"] = speed.margin;
  json["deciding_pantograph"] = speed.pantograph;
  json["deciding_knuckle"] = name_of(row.knuckle);
  json["deciding_text"] = speed.text;
  json["no_run"] = speed.refused;
  json["warnings"] = warnings_to_json(speed, report.words);
  json["by_supports"] = by_supports_to_json(speed);
  json["speeds_judged"] = row.judged;
  json["speeds_judged_coarse"] = row.coarse;
  json["samples_permitted_speed_kmh"] = row.samples_kmh;
  return json;
}

}  // namespace

Json speed_table_to_json(const SpeedTableReport& report) {
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
  json["id"] = report.id;
  json["name"] = report.name;
  json["invented"] = report.invented;
  json["lines"] = Json::array();
  for (const ToldLine& line : report.lines) {
    json["lines"].push_back({{"id", line.id},
                             {"name", line.name},
                             {"source", line.source},
                             {"invented", line.invented},
                             {"wave_speed_kmh", line.wave_speed_kmh},
                             {"temperature_c", line.temperature_c}});
  }
  json["pantographs"] = Json::array();
  for (const ToldPantograph& one : report.pantographs) {
    Json knuckles = Json::array();
    for (const Knuckle knuckle : one.knuckles) {
      knuckles.push_back(name_of(knuckle));
    }
    json["pantographs"].push_back({{"id", one.id},
                                   {"name", one.name},
                                   {"source", one.source},
                                   {"invented", one.invented},
                                   {"static_force_n", one.static_force_n},
                                   {"knuckles", std::move(knuckles)}});
  }
  json["energy_supply"] = report.supply ? Json(name_of(*report.supply)) : Json(nullptr);
  json["up_to_kmh"] = report.up_to_kmh;
  json["rows"] = Json::array();
  for (const SpeedTableRow& row : report.table.rows) {
    json["rows"].push_back(row_to_json(report, row));
  }
  json["samples"] = report.samples > 0 ? Json{{"number", report.samples},
                                              {"seed", report.seed},
                                              {"tolerances", report.table.tolerances}}
                                       : Json(nullptr);
  json["criteria"] = report.table.criteria;
  json["not_judged"] = report.table.not_judged;
  json["rule_books"] = report.rule_books;
  json["inputs"] = inputs_to_json(report.inputs);
  json["notes"] = notes_of(report);
  json["cautions"] = cautions("result", report.words);
  return json;
}

}  // namespace panup
