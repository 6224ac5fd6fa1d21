#include "dynamics/simulate.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/line_at_rest.h"
#include "cli/output_files.h"
#include "cli/simulate_options.h"
#include "cli/version.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "render/simulation.h"

namespace panup {

namespace {

/// Rows of history, over all pantographs, beyond which a run would not fit a common memory.
constexpr double most_rows = 2e7;

int wrong(const std::string& text) {
  fmt::print(stderr, "panup: {}\n", text);
  return exit_wrong_input;
}

int wrong(const std::vector<std::string>& texts) {
  for (const std::string& text : texts) {
    wrong(text);
  }
  return exit_wrong_input;
}

struct Input {
  ContactLine line;
  std::vector<PantographModel> models;
  std::vector<InputFile> files;
};

/// Reads all files, so that the mistakes of all of them are seen at once.
std::optional<Input> read_input(const SimulateOptions& options) {
  Diagnostics diagnostics;
  Input input;
  auto line = read_contact_line_file(options.line, diagnostics);
  input.files.push_back({"line", options.line});
  for (std::size_t i = 0; i < options.pantographs.size(); ++i) {
    const std::string& path = options.pantographs[i];
    const auto before = options.pantographs.begin() + static_cast<std::ptrdiff_t>(i);
    const bool again = std::find(options.pantographs.begin(), before, path) != before;
    Diagnostics of_file;
    if (auto model = read_pantograph_model_file(path, of_file)) {
      input.models.push_back(std::move(*model));
    }
    if (!again) {
      diagnostics.insert(diagnostics.end(), of_file.begin(), of_file.end());
      input.files.push_back({"pantograph", path});
    }
  }
  if (print_diagnostics(diagnostics) || !line ||
      input.models.size() != options.pantographs.size()) {
    return std::nullopt;
  }
  input.line = std::move(*line);
  return input;
}

LineWeather weather_of(const SimulateOptions& options, const ContactLine& line) {
  LineWeather weather;
  weather.temperature_c = options.temperature_c.value_or(line.reference_temperature_c);
  weather.ice_on_contact_wire_kg_per_m = options.ice_kg_per_m.value_or(0);
  weather.ice_on_messenger_wire_kg_per_m = options.ice_kg_per_m.value_or(0);
  return weather;
}

/// Adds what is wrong to `mistakes`.
std::vector<RunningPantograph> raised_pantographs(const SimulateOptions& options,
                                                  const Input& input,
                                                  std::vector<std::string>& mistakes) {
  const auto supply = energy_supply_named(options.system);
  std::vector<RunningPantograph> raised;
  double behind_m = 0;
  for (std::size_t i = 0; i <= options.spacings.size(); ++i) {
    RunningPantograph one;
    one.model = input.models.size() == 1 ? input.models.front() : input.models[i];
    if (!options.knuckles.empty()) {
      const std::string& knuckle =
          options.knuckles.size() == 1 ? options.knuckles.front() : options.knuckles[i];
      one.knuckle = knuckle == "trailing" ? Knuckle::trailing : Knuckle::leading;
    }
    if (const auto force = static_force_of(one.model, supply)) {
      one.static_force_n = *force;
    } else {
      std::string systems;
      for (const StaticForce& stated : one.model.static_forces) {
        systems += fmt::format("{}\"{}\"", systems.empty() ? "" : ", ", name_of(stated.supply));
      }
      std::string text = supply ? fmt::format("{}: no static force is stated for \"{}\"; it has {}",
                                              one.model.id, name_of(*supply), systems)
                                : fmt::format(
                                      "{}: its static force is stated by energy supply system; say "
                                      "which with --system: {}",
                                      one.model.id, systems);
      if (std::ranges::find(mistakes, text) == mistakes.end()) {
        mistakes.push_back(std::move(text));
      }
    }
    behind_m += i > 0 ? options.spacings[i - 1] : 0;
    one.behind_first_m = behind_m;
    raised.push_back(std::move(one));
  }
  return raised;
}

/// Why a run would be too long to be kept in memory; empty where it is not.
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

std::vector<OutputFile> output_files(const std::string& stem, std::string text, std::string json,
                                     std::vector<RenderedFile> drawings) {
  std::vector<OutputFile> files;
  files.push_back({stem + ".txt", std::move(text)});
  files.push_back({stem + ".json", std::move(json)});
  for (RenderedFile& drawing : drawings) {
    files.push_back({std::move(drawing.name), std::move(drawing.bytes)});
  }
  return files;
}

int show_line_at_rest(const SimulateOptions& options, Input input) {
  auto made = line_at_rest(input.line, weather_of(options, input.line));
  if (const auto* refusals = std::get_if<std::vector<std::string>>(&made)) {
    return wrong(*refusals);
  }
  auto& report = std::get<StaticReport>(made);
  report.inputs = std::move(input.files);
  report.program_version = program_version;
  const std::string text = statics_to_text(report);
  const std::string json = json_text(statics_to_json(report));
  if (!options.out.empty()) {
    const auto files = output_files("statics", text, json, render_statics(report));
    if (const int status = write_out(options.out, files); status != exit_done) {
      return status;
    }
    remove_earlier_sheets(options.out, "statics", files);
  }
  return print_result(options.common.json() ? json : text, exit_done);
}

int write_results(const SimulateOptions& options, const SimulationReport& report,
                  const std::string& text, const std::string& json) {
  if (!options.trace.empty()) {
    const auto place = file_place(options.trace);
    if (const int status = write_out(place->folder, {{place->name, trace_to_csv(report.result)}});
        status != exit_done) {
      return status;
    }
  }
  if (!options.out.empty()) {
    auto files = output_files("simulation", text, json, render_simulation(report));
    files.push_back({"trace.csv", trace_to_csv(report.result)});
    if (const int status = write_out(options.out, files); status != exit_done) {
      return status;
    }
    remove_earlier_sheets(options.out, "simulation", files);
  }
  return exit_done;
}

int simulate_run(const SimulateOptions& options, Input input) {
  std::vector<std::string> mistakes;
  SimulationRequest request;
  request.line = &input.line;
  request.pantographs = raised_pantographs(options, input, mistakes);
  request.speed_kmh = *options.speed_kmh;
  SimulationSettings& settings = request.settings;
  settings.from_m = options.from_m;
  settings.to_m = options.to_m;
  if (options.step_ms) {
    settings.step_s = *options.step_ms / 1000;
  }
  settings.weather = weather_of(options, input.line);
  settings.weather_given = options.temperature_c || options.ice_kg_per_m;
  settings.keep_trace = !options.trace.empty() || !options.out.empty();
  if (const std::string text = too_long(request); !text.empty()) {
    mistakes.push_back(text);
  }
  if (!options.trace.empty() && !file_place(options.trace)) {
    mistakes.push_back(fmt::format("--trace {}: this is not the name of a file", options.trace));
  }
  if (!mistakes.empty()) {
    return wrong(mistakes);
  }
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    return wrong(outcome.refusals);
  }
  SimulationReport report;
  report.pantographs = std::move(request.pantographs);
  report.line = std::move(input.line);
  report.supply = energy_supply_named(options.system);
  report.knuckles_stated = !options.knuckles.empty();
  report.weather = settings.weather;
  report.result = std::move(*outcome.result);
  report.inputs = std::move(input.files);
  report.program_version = program_version;
  const std::string text = simulation_to_text(report);
  const std::string json = json_text(simulation_to_json(report));
  if (const int status = write_results(options, report, text, json); status != exit_done) {
    return status;
  }
  return print_result(options.common.json() ? json : text, exit_done);
}

int run(const SimulateOptions& options) {
  if (!options.at_rest) {
    if (const auto mistakes = mistakes_of(options); !mistakes.empty()) {
      return wrong(mistakes);
    }
  }
  auto input = read_input(options);
  if (!input) {
    return exit_wrong_input;
  }
  return options.at_rest ? show_line_at_rest(options, std::move(*input))
                         : simulate_run(options, std::move(*input));
}

}  // namespace

void add_simulate_command(CLI::App& program, int& status) {
  auto options = std::make_shared<SimulateOptions>();
  CLI::App* const command = program.add_subcommand(
      "simulate",
      "contact force of one or more pantographs on a contact line, or the line at rest");
  add_simulate_options(*command, *options);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run(*options); });
}

}  // namespace panup
