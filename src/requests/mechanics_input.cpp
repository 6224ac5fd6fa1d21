#include "requests/mechanics_input.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "requests/plan_input.h"
#include "rules/rule_book.h"

namespace panup {

namespace {

/// Rows of history, over all pantographs, beyond which a run would not fit a common memory.
constexpr double most_rows = 2e7;

}  // namespace

std::string no_static_force(const PantographModel& model, std::optional<EnergySupply> supply,
                            std::string_view with_system, const Words& words) {
  std::string systems;
  for (const StaticForce& stated : model.static_forces) {
    systems += fmt::format("{}\"{}\"", systems.empty() ? "" : ", ", name_of(stated.supply));
  }
  return supply
             ? words.say("{}: no static force is stated for \"{}\"; it has {}", model.id,
                         name_of(*supply), systems)
             : words.say("{}: its static force is stated by energy supply system; say which {}: {}",
                         model.id, with_system, systems);
}

std::optional<SimulationInput> read_simulation_input(const std::string& line,
                                                     const std::vector<std::string>& pantographs,
                                                     const FileSource& files,
                                                     Diagnostics& diagnostics) {
  SimulationInput input;
  auto read = read_contact_line_file(line, diagnostics, files);
  input.files.push_back({"line", line});
  for (std::size_t i = 0; i < pantographs.size(); ++i) {
    const std::string& path = pantographs[i];
    const auto before = pantographs.begin() + static_cast<std::ptrdiff_t>(i);
    const bool again = std::find(pantographs.begin(), before, path) != before;
    Diagnostics of_file;
    if (auto model = read_pantograph_model_file(path, of_file, files)) {
      input.models.push_back(std::move(*model));
    }
    if (!again) {
      diagnostics.insert(diagnostics.end(), of_file.begin(), of_file.end());
      input.files.push_back({"pantograph", path});
    }
  }
  if (!read || input.models.size() != pantographs.size()) {
    return std::nullopt;
  }
  input.line = std::move(*read);
  return input;
}

std::vector<RunningPantograph> running_pantographs(const std::vector<PantographModel>& models,
                                                   const std::vector<RaisedOnLine>& raised,
                                                   std::optional<EnergySupply> supply,
                                                   std::string_view with_system,
                                                   std::vector<std::string>& mistakes,
                                                   const Words& words) {
  std::vector<RunningPantograph> running;
  for (const RaisedOnLine& on_line : raised) {
    RunningPantograph one;
    one.model = models.at(on_line.model);
    one.knuckle = on_line.knuckle;
    one.behind_first_m = on_line.behind_first_m;
    if (const auto force = static_force_of(one.model, supply)) {
      one.static_force_n = *force;
    } else {
      std::string text = no_static_force(one.model, supply, with_system, words);
      if (std::ranges::find(mistakes, text) == mistakes.end()) {
        mistakes.push_back(std::move(text));
      }
    }
    running.push_back(std::move(one));
  }
  return running;
}

LineWeather weather_on(const ContactLine& line, std::optional<double> temperature_c,
                       std::optional<double> ice_kg_per_m) {
  LineWeather weather;
  weather.temperature_c = temperature_c.value_or(line.reference_temperature_c);
  weather.ice_on_contact_wire_kg_per_m = ice_kg_per_m.value_or(0);
  weather.ice_on_messenger_wire_kg_per_m = ice_kg_per_m.value_or(0);
  return weather;
}

std::string too_long(const SimulationRequest& request) {
  const double step_s = request.settings.step_s.value_or(default_step_with_bending_s);
  const double rows = length_of(*request.line) / (request.speed_kmh / 3.6 * step_s) *
                      static_cast<double>(request.pantographs.size());
  return rows <= most_rows
             ? std::string()
             : fmt::format(
                   "the run would take {:.0f} million steps of one pantograph; {:.0f} "
                   "million are the most: take a shorter line, a longer step or a higher "
                   "speed",
                   rows / 1e6, most_rows / 1e6);
}

std::optional<EnvelopeInput> read_envelope_input(const std::string& line,
                                                 const std::string& pantograph,
                                                 const std::vector<std::string>& rules,
                                                 const FileSource& files, Diagnostics& diagnostics,
                                                 const Words& words) {
  auto read_line = read_contact_line_file(line, diagnostics, files);
  auto model = read_pantograph_model_file(pantograph, diagnostics, files);
  auto book = read_rule_books(rules, std::string(), diagnostics, files);
  if (!read_line || !model || !book) {
    return std::nullopt;
  }
  EnvelopeInput input{
      std::move(*read_line), std::move(*model), said_in(std::move(*book), words), {}};
  input.files.push_back({"line", line});
  input.files.push_back({"pantograph", pantograph});
  for (const std::string& path : rules) {
    input.files.push_back({"rule book", path});
  }
  return input;
}

std::vector<Knuckle> knuckles_named(std::string_view name, const PantographModel& model) {
  const bool alike =
      model.aerodynamic_knuckle_leading_n_per_kmh2 == model.aerodynamic_knuckle_trailing_n_per_kmh2;
  if (name == "leading" || (name == "both" && alike)) {
    return {Knuckle::leading};
  }
  if (name == "trailing") {
    return {Knuckle::trailing};
  }
  return {Knuckle::leading, Knuckle::trailing};
}

std::vector<std::string> rules_missing(const RuleBook& rules, bool samples) {
  std::vector<std::string> missing;
  for (const auto& [kind, what] : {std::pair{RuleKind::speed_by_mechanics, "speeds are looked at"},
                                   std::pair{RuleKind::tolerances, "samples are drawn"}}) {
    const bool asked = kind == RuleKind::speed_by_mechanics || samples;
    if (asked && rule_in_force(rules, kind) == nullptr) {
      missing.push_back(fmt::format(
          "no rule of kind '{}' is in force, which says how {}; turn it on in a rule book",
          spec_of(kind).name, what));
    }
  }
  return missing;
}

void set_input(EnvelopeRequest& request, const EnvelopeInput& input, std::string_view with_system,
               std::vector<std::string>& mistakes) {
  request.line = &input.line;
  request.pantograph = input.pantograph;
  request.rules = &input.rules;
  if (const auto force = static_force_of(input.pantograph, request.supply)) {
    request.static_force_n = *force;
  } else {
    mistakes.push_back(
        fmt::format("{} states its static force by energy supply system{}; name one of them {}",
                    input.pantograph.id,
                    request.supply ? fmt::format(", and none for \"{}\"", name_of(*request.supply))
                                   : std::string(),
                    with_system));
  }
  for (std::string& missing : rules_missing(input.rules, request.samples > 0)) {
    mistakes.push_back(std::move(missing));
  }
}

}  // namespace panup
