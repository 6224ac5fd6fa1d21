#include "dynamics/simulate.h"

#include <fmt/format.h>

#include "base/handed_out.h"
#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "cli/simulate_options.h"
#include "cli/version.h"
#include "figures/simulation.h"
#include "requests/asked_run.h"
#include "requests/line_at_rest.h"

namespace panup {

namespace {

int wrong(const std::string& text) {
  say("panup: {}\n", text);
  return exit_wrong_input;
}

int wrong(const std::vector<std::string>& texts) {
  for (const std::string& text : texts) {
    wrong(text);
  }
  return exit_wrong_input;
}

/// One model, or one direction of running, is that of all pantographs.
std::vector<RaisedOnLine> raised_of(const SimulateOptions& options) {
  std::vector<RaisedOnLine> raised;
  double behind_m = 0;
  for (std::size_t i = 0; i <= options.spacings.size(); ++i) {
    RaisedOnLine one;
    one.model = options.pantographs.size() == 1 ? 0 : i;
    if (!options.knuckles.empty()) {
      const std::string& knuckle =
          options.knuckles.size() == 1 ? options.knuckles.front() : options.knuckles[i];
      one.knuckle = knuckle == "trailing" ? Knuckle::trailing : Knuckle::leading;
    }
    behind_m += i > 0 ? options.spacings[i - 1] : 0;
    one.behind_first_m = behind_m;
    raised.push_back(one);
  }
  return raised;
}

std::vector<OutputFile> output_files(const std::string& stem, std::string text, std::string json,
                                     std::vector<RenderedFile> drawings) {
  std::vector<OutputFile> files;
  files.push_back({stem + ".txt", std::move(text)});
  files.push_back({stem + ".json", std::move(json)});
  add_rendered(std::move(drawings), files);
  return files;
}

int show_line_at_rest(const SimulateOptions& options, SimulationInput input, const Words& words) {
  auto made =
      line_at_rest(input.line, weather_on(input.line, options.temperature_c, options.ice_kg_per_m));
  if (const auto* refusals = std::get_if<std::vector<Sentence>>(&made)) {
    return wrong(said(*refusals, words));
  }
  auto& report = std::get<StaticReport>(made);
  report.inputs = std::move(input.files);
  report.program_version = program_version;
  report.words = words;
  const std::string text = statics_to_text(report);
  const std::string json = json_text(statics_to_json(report));
  if (!options.out.empty()) {
    const auto files = output_files("statics", text, json, render_statics(report));
    if (const int status = write_sheets(options.out, "statics", files, paths_of(report.inputs));
        status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json() ? json : text, exit_done);
}

int write_results(const SimulateOptions& options, const SimulationReport& report,
                  const std::string& text, const std::string& json) {
  if (!options.trace.empty()) {
    const auto place = file_place(options.trace);
    std::vector<OutputFile> files;
    add_rendered(trace_files(report, place->name), files);
    if (const int status = write_out(place->folder, files, paths_of(report.inputs));
        status != exit_done) {
      return status;
    }
  }
  if (!options.out.empty()) {
    auto files = output_files("simulation", text, json, render_simulation(report));
    add_rendered(trace_files(report, "trace.csv"), files);
    return write_sheets(options.out, "simulation", std::move(files), paths_of(report.inputs));
  }
  return exit_done;
}

int simulate_run(const SimulateOptions& options, const SimulationInput& input, const Words& words) {
  std::vector<std::string> mistakes;
  const AskedRun asked{.raised = raised_of(options),
                       .knuckles_stated = !options.knuckles.empty(),
                       .supply = energy_supply_named(options.system),
                       .speed_kmh = *options.speed_kmh,
                       .temperature_c = options.temperature_c,
                       .ice_kg_per_m = options.ice_kg_per_m,
                       .words = words};
  SimulationRequest request = request_of(asked, input, "with --system", mistakes);
  SimulationSettings& settings = request.settings;
  settings.from_m = options.from_m;
  settings.to_m = options.to_m;
  if (options.step_ms) {
    settings.step_s = *options.step_ms / 1000;
  }
  settings.keep_trace = !options.trace.empty() || !options.out.empty();
  if (const std::string text = too_long(request); !text.empty()) {
    mistakes.push_back(text);
  }
  if (!options.trace.empty() && !file_place(options.trace)) {
    mistakes.push_back(fmt::format("--trace {}: this is not the name of a file", options.trace));
  }
  if (const std::string text = input_in_the_way(options.trace, paths_of(input.files));
      !text.empty()) {
    mistakes.push_back(fmt::format("--trace {}", text));
  }
  if (!mistakes.empty()) {
    return wrong(mistakes);
  }
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    return wrong(said(outcome.refusals, words));
  }
  const SimulationReport report =
      report_of(asked, input, request, std::move(*outcome.result), program_version);
  const std::string text = simulation_to_text(report);
  const std::string json = json_text(simulation_to_json(report));
  if (const int status = write_results(options, report, text, json); status != exit_done) {
    return status;
  }
  return print_result(options.common.json() ? json : text, exit_done);
}

int run_simulate(const SimulateOptions& options) {
  if (!options.at_rest) {
    if (const auto mistakes = mistakes_of(options); !mistakes.empty()) {
      return wrong(mistakes);
    }
  }
  Diagnostics diagnostics;
  const Words words = words_of(options.language, diagnostics);
  auto input =
      read_simulation_input(options.line, options.pantographs, files_on_disk(), diagnostics);
  if (print_diagnostics(diagnostics) || !input) {
    return exit_wrong_input;
  }
  return options.at_rest ? show_line_at_rest(options, std::move(*input), words)
                         : simulate_run(options, *input, words);
}

}  // namespace

void add_simulate_command(CLI::App& program, int& status) {
  auto options = std::make_shared<SimulateOptions>();
  CLI::App* const command = program.add_subcommand(
      "simulate",
      "contact force of one or more pantographs on a contact line, or the line at rest");
  add_simulate_options(*command, *options);
  add_language_option(*command, options->language);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_simulate(*options); });
}

}  // namespace panup
