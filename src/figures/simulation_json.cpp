#include "base/handed_out.h"
#include "drawing/json_text.h"
#include "figures/simulation.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json line_to_json(const ContactLine& line) {
  return Json{{"id", line.id},         {"name", line.name},          {"invented", line.invented},
              {"source", line.source}, {"spans", line.spans.size()}, {"length_m", length_of(line)}};
}

Json pantograph_to_json(const RunningPantograph& one, const PantographRun& run, double speed_kmh) {
  Json json;
  json["position_m"] = run.position_m;
  json["mean_n"] = run.mean_n;
  json["std_n"] = run.std_n;
  json["statistical_max_n"] = run.statistical_max_n;
  json["statistical_min_n"] = run.statistical_min_n;
  json["max_n"] = run.max_n;
  json["min_n"] = run.min_n;
  json["contact_loss_percent"] = run.contact_loss_percent;
  json["longest_contact_loss_ms"] = run.longest_contact_loss_ms;
  json["contact_losses_ms"] = run.contact_losses_ms;
  json["highest_head_mm"] = 1000 * run.highest_head_m;
  json["lowest_head_mm"] = 1000 * run.lowest_head_m;
  json["model"] = one.model.id;
  json["model_name"] = one.model.name;
  json["invented"] = one.model.invented;
  json["source"] = one.model.source;
  json["knuckle"] = one.knuckle == Knuckle::leading ? "leading" : "trailing";
  json["static_force_n"] = one.static_force_n;
  json["aerodynamic_force_n"] = aerodynamic_force(one.model, one.knuckle, speed_kmh);
  json["histogram"] = Json{{"from_n", run.histogram.from_n},
                           {"bar_n", run.histogram.bar_n},
                           {"counts", run.histogram.counts}};
  return json;
}

Json support_uplifts_to_json(const std::vector<SupportUplift>& uplifts) {
  Json json = Json::array();
  for (const SupportUplift& uplift : uplifts) {
    json.push_back({{"at_m", uplift.at_m}, {"uplift_mm", uplift.uplift_mm}});
  }
  return json;
}

Json span_uplifts_to_json(const std::vector<SpanUplift>& uplifts) {
  Json json = Json::array();
  for (const SpanUplift& uplift : uplifts) {
    json.push_back({{"from_m", uplift.from_m},
                    {"to_m", uplift.to_m},
                    {"at_m", uplift.at_m},
                    {"uplift_mm", uplift.uplift_mm}});
  }
  return json;
}

Json slackening_to_json(const std::vector<DropperSlackening>& droppers) {
  Json json = Json::array();
  for (const DropperSlackening& dropper : droppers) {
    json.push_back({{"at_m", dropper.at_m},
                    {"slack_ms", dropper.slack_ms},
                    {"times", dropper.times},
                    {"greatest_force_n", dropper.greatest_force_n}});
  }
  return json;
}

Json energy_to_json(const EnergyBalance& energy) {
  return Json{{"work_of_frames_j", energy.work_of_frames_j},
              {"work_of_traction_j", energy.work_of_traction_j},
              {"stored_j", energy.stored_j},
              {"peak_stored_j", energy.peak_stored_j},
              {"dissipated_j", energy.dissipated_j},
              {"missing_j", energy.missing_j}};
}

Json other_supports_to_json(const SimulationReport& report) {
  const auto& other = report.result.other_supports;
  if (!other) {
    return nullptr;
  }
  Json pantographs = Json::array();
  for (const PantographRun& run : other->pantographs) {
    pantographs.push_back({{"mean_n", run.mean_n},
                           {"std_n", run.std_n},
                           {"max_n", run.max_n},
                           {"min_n", run.min_n},
                           {"contact_loss_percent", run.contact_loss_percent}});
  }
  return Json{{"taken_n_per_m", other->taken_n_per_m},
              {"other_n_per_m", other->other_n_per_m},
              {"pantographs", std::move(pantographs)},
              {"max_support_uplift_mm", other->max_support_uplift_mm}};
}

Json rest_spans_to_json(const StaticReport& report) {
  Json json = Json::array();
  const std::vector<double> supports = support_positions(report.line);
  for (std::size_t i = 0; i < report.line.spans.size(); ++i) {
    json.push_back({{"number", i + 1},
                    {"from_m", supports[i]},
                    {"to_m", supports[i + 1]},
                    {"pre_sag_mm", 1000 * report.line.spans[i].pre_sag_m},
                    {"built_sag_mm", 1000 * report.state.built_sag_m[i]},
                    {"contact_sag_mm", 1000 * report.state.contact_sag_m[i]},
                    {"messenger_sag_mm", 1000 * report.state.messenger_sag_m[i]}});
  }
  return json;
}

Json rest_droppers_to_json(const StaticReport& report) {
  Json json = Json::array();
  const std::vector<double> supports = support_positions(report.line);
  for (const StaticDropper& dropper : report.state.droppers) {
    json.push_back(
        {{"span", dropper.span + 1},
         {"at_m", dropper.at_m},
         {"from_support_m", dropper.at_m - supports[static_cast<std::size_t>(dropper.span)]},
         {"force_n", dropper.force_n},
         {"length_m", dropper.length_m},
         {"slack_mm", 1000 * dropper.slack_m},
         {"hangs_from", dropper.on_stitch_wire ? "stitch wire" : "messenger wire"}});
  }
  return json;
}

Json rest_points_to_json(const std::vector<StaticPoint>& points) {
  Json json = Json::array();
  for (const StaticPoint& point : points) {
    json.push_back({{"at_m", point.at_m},
                    {"contact_wire_mm", 1000 * point.contact_wire_m},
                    {"messenger_wire_mm", 1000 * point.messenger_wire_m},
                    {"elasticity_mm_per_n", point.elasticity_mm_per_n}});
  }
  return json;
}

}  // namespace

Json weather_to_json(const LineWeather& weather) {
  return Json{{"temperature_c", weather.temperature_c},
              {"ice_on_contact_wire_kg_per_m", weather.ice_on_contact_wire_kg_per_m},
              {"ice_on_messenger_wire_kg_per_m", weather.ice_on_messenger_wire_kg_per_m}};
}

Json simulation_to_json(const SimulationReport& report) {
  const SimulationResult& result = report.result;
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
  json["line"] = line_to_json(report.line);
  json["energy_supply"] = report.supply ? Json(name_of(*report.supply)) : Json(nullptr);
  json["conditions"] = weather_to_json(report.weather);
  json["speed_kmh"] = result.speed_kmh;
  json["wave_speed_kmh"] = result.wave_speed_kmh;
  json["evaluated"] = Json{{"from_m", result.from_m}, {"to_m", result.to_m}};
  Json pantographs = Json::array();
  for (std::size_t i = 0; i < result.pantographs.size(); ++i) {
    pantographs.push_back(
        pantograph_to_json(report.pantographs[i], result.pantographs[i], result.speed_kmh));
  }
  json["pantographs"] = std::move(pantographs);
  json["max_support_uplift_mm"] = result.max_support_uplift_mm;
  json["max_span_uplift_mm"] = result.max_span_uplift_mm;
  json["support_uplifts"] = support_uplifts_to_json(result.support_uplifts);
  json["span_uplifts"] = span_uplifts_to_json(result.span_uplifts);
  json["droppers"] = slackening_to_json(result.droppers);
  json["energy_error"] = result.energy.relative_error();
  json["energy"] = energy_to_json(result.energy);
  json["step_s"] = result.step_s;
  json["contact_grid_m"] = result.contact_grid_m;
  json["messenger_grid_m"] = result.messenger_grid_m;
  json["simulated_s"] = result.simulated_s;
  json["wall_s"] = result.wall_s;
  json["real_time_factor"] = result.wall_s > 0 ? result.simulated_s / result.wall_s : 0;
  json["inputs"] = inputs_to_json(report.inputs);
  json["warnings"] = Json::array();
  json["doubts"] = Json::array();
  for (const Warning& warning : result.warnings) {
    json["warnings"].push_back(warning.text.said(report.words));
    json["doubts"].push_back(name_of(warning.doubt));
  }
  json["other_supports"] = other_supports_to_json(report);
  json["notes"] = notes_of(report);
  json["cautions"] = cautions("result", report.words);
  return json;
}

Json statics_to_json(const StaticReport& report) {
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
  json["line"] = line_to_json(report.line);
  json["conditions"] = weather_to_json(report.weather);
  json["contact_tension_n"] = report.state.contact_tension_n;
  json["messenger_tension_n"] = report.state.messenger_tension_n;
  json["contact_weight_n"] = report.state.contact_weight_n;
  json["steady_arm_force_n"] = report.state.steady_arm_force_n;
  json["termination_force_n"] = report.state.termination_force_n;
  json["spans"] = rest_spans_to_json(report);
  json["droppers"] = rest_droppers_to_json(report);
  json["points"] = rest_points_to_json(report.points);
  json["inputs"] = inputs_to_json(report.inputs);
  json["notes"] = notes_of(report);
  json["cautions"] = cautions("result", report.words);
  return json;
}

}  // namespace panup
