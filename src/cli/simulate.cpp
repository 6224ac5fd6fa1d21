#include "dynamics/simulate.h"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>

#include "cli/commands.h"
#include "cli/output_files.h"
#include "cli/version.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "render/simulation.h"

namespace panup {

namespace {

struct Options {
  CommonOptions common;
  std::string line;
  std::vector<std::string> pantographs;
  std::vector<double> spacings_m;
  std::optional<double> speed_kmh;
  std::vector<std::string> knuckles;
  std::string supply;
  std::optional<double> from_m;
  std::optional<double> to_m;
  std::optional<double> step_ms;
  std::optional<double> temperature_c;
  std::optional<double> ice_kg_per_m;
  bool at_rest = false;
  std::string trace;
  std::string out;
};

/// Of the static state: enough for a plot without corners.
constexpr int points_per_span = 41;

struct Input {
  ContactLine line;
  std::vector<PantographModel> models;
  std::vector<InputFile> files;
};

std::optional<Input> read_input(const Options& options) {
  Diagnostics diagnostics;
  Input input;
  auto line = read_contact_line_file(options.line, diagnostics);
  input.files.push_back({"line", options.line});
  for (const std::string& path : options.pantographs) {
    if (auto model = read_pantograph_model_file(path, diagnostics)) {
      input.models.push_back(std::move(*model));
    }
    input.files.push_back({"pantograph", path});
  }
  if (print_diagnostics(diagnostics) || !line) {
    return std::nullopt;
  }
  input.line = std::move(*line);
  return input;
}

/// Prints what is wrong with the command line.
int refuse(const std::string& what) {
  fmt::print(stderr, "panup: {}\n", what);
  return exit_wrong_input;
}

/// Why the options do not fit together, or empty.
std::string mismatch(const Options& options) {
  const std::size_t models = options.pantographs.size();
  const std::size_t spacings = options.spacings_m.size();
  if (models > 1 && spacings + 1 != models) {
    return fmt::format(
        "{} pantographs are given with {} spacings; one spacing fewer than "
        "pantographs is right, or one pantograph with as many spacings as others follow",
        models, spacings);
  }
  if (options.knuckles.size() > 1 && options.knuckles.size() != spacings + 1) {
    return fmt::format(
        "--knuckle is given {} times for {} pantographs; once for all, or once for "
        "each, is right",
        options.knuckles.size(), spacings + 1);
  }
  if (!options.speed_kmh) {
    return "--speed is missing: the speed in km/h, or --static for the line at rest";
  }
  if (options.pantographs.empty()) {
    return "--pantograph is missing: a file, or --static for the line at rest";
  }
  return {};
}

std::optional<EnergySupply> supply_of_word(const std::string& word) {
  return word.empty() ? std::nullopt : energy_supply_named(word);
}

/// The pantographs of the run, or why there are none.
std::variant<std::vector<RunningPantograph>, std::string> pantographs_of(const Options& options,
                                                                         const Input& input) {
  std::vector<RunningPantograph> running;
  const std::optional<EnergySupply> supply = supply_of_word(options.supply);
  double behind_m = 0;
  for (std::size_t i = 0; i <= options.spacings_m.size(); ++i) {
    RunningPantograph one;
    one.model = input.models.size() == 1 ? input.models.front() : input.models[i];
    const auto force = static_force_of(one.model, supply);
    if (!force) {
      return fmt::format("the pantograph model '{}' states no static force {}; {}", one.model.id,
                         supply ? fmt::format("on {}", name_of(*supply)) : "for every system",
                         supply ? "name another system" : "name one with --system");
    }
    one.static_force_n = *force;
    const std::size_t knuckle = options.knuckles.size() == 1 ? 0 : i;
    if (!options.knuckles.empty() && options.knuckles[knuckle] == "trailing") {
      one.knuckle = Knuckle::trailing;
    }
    behind_m += i > 0 ? options.spacings_m[i - 1] : 0;
    one.behind_first_m = behind_m;
    running.push_back(std::move(one));
  }
  return running;
}

std::optional<LineWeather> weather_of(const Options& options, const ContactLine& line) {
  if (!options.temperature_c && !options.ice_kg_per_m) {
    return std::nullopt;
  }
  const double ice = options.ice_kg_per_m.value_or(0);
  return LineWeather{options.temperature_c.value_or(line.reference_temperature_c), ice, ice};
}

int write_out(const Options& options, std::vector<OutputFile> files,
              std::vector<RenderedFile> rendered) {
  for (RenderedFile& file : rendered) {
    files.push_back({std::move(file.name), std::move(file.bytes)});
  }
  if (const auto failure = write_files(options.out, files)) {
    fmt::print(stderr, "panup: {}\n", failure->text);
    return failure->folder_unusable ? exit_wrong_input : exit_fault;
  }
  for (const OutputFile& file : files) {
    fmt::print(stderr, "written: {}/{}\n", options.out, file.name);
  }
  return exit_done;
}

int write_trace(const Options& options, const SimulationResult& result) {
  const std::filesystem::path path(options.trace);
  const std::string folder = path.has_parent_path() ? path.parent_path().string() : ".";
  if (const auto failure =
          write_files(folder, {{path.filename().string(), trace_to_csv(result)}})) {
    fmt::print(stderr, "panup: {}\n", failure->text);
    return failure->folder_unusable ? exit_wrong_input : exit_fault;
  }
  fmt::print(stderr, "written: {}\n", options.trace);
  return exit_done;
}

int run_at_rest(const Options& options, Input input) {
  StaticReport report;
  report.line = std::move(input.line);
  report.weather = weather_of(options, report.line)
                       .value_or(LineWeather{.temperature_c = report.line.reference_temperature_c});
  report.inputs = std::move(input.files);
  report.program_version = program_version;
  auto state = static_state(report.line, report.weather, points_per_span, true);
  if (const auto* refusals = std::get_if<std::vector<std::string>>(&state)) {
    for (const std::string& refusal : *refusals) {
      refuse(fmt::format("{}: {}", options.line, refusal));
    }
    return exit_wrong_input;
  }
  report.state = std::get<StaticState>(std::move(state));
  const std::string json = json_text(statics_to_json(report));
  const std::string text = statics_to_text(report);
  if (!options.out.empty()) {
    const int status =
        write_out(options, {{"statics.txt", text}, {"statics.json", json}}, render_statics(report));
    if (status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json() ? json : text, exit_done);
}

int run_in_motion(const Options& options, Input input) {
  if (const std::string wrong = mismatch(options); !wrong.empty()) {
    return refuse(wrong);
  }
  auto pantographs = pantographs_of(options, input);
  if (const auto* wrong = std::get_if<std::string>(&pantographs)) {
    return refuse(*wrong);
  }
  SimulationReport report;
  report.line = std::move(input.line);
  report.pantographs = std::get<std::vector<RunningPantograph>>(std::move(pantographs));
  report.inputs = std::move(input.files);
  report.program_version = program_version;
  SimulationRequest request;
  request.line = &report.line;
  request.pantographs = report.pantographs;
  request.speed_kmh = *options.speed_kmh;
  request.settings.from_m = options.from_m;
  request.settings.to_m = options.to_m;
  if (options.step_ms) {
    request.settings.step_s = *options.step_ms / 1000;
  }
  if (const auto weather = weather_of(options, report.line)) {
    request.settings.weather = *weather;
    request.settings.weather_given = true;
  }
  request.settings.keep_trace = !options.trace.empty() || !options.out.empty();
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    for (const std::string& refusal : outcome.refusals) {
      refuse(refusal);
    }
    return exit_wrong_input;
  }
  report.result = std::move(*outcome.result);
  const std::string json = json_text(simulation_to_json(report));
  const std::string text = simulation_to_text(report);
  if (!options.out.empty()) {
    const int status = write_out(options,
                                 {{"simulation.txt", text},
                                  {"simulation.json", json},
                                  {"trace.csv", trace_to_csv(report.result)}},
                                 render_simulation(report));
    if (status != exit_done) {
      return status;
    }
  }
  if (!options.trace.empty()) {
    if (const int status = write_trace(options, report.result); status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json() ? json : text, exit_done);
}

int run(const Options& options) {
  auto input = read_input(options);
  if (!input) {
    return exit_wrong_input;
  }
  return options.at_rest ? run_at_rest(options, std::move(*input))
                         : run_in_motion(options, std::move(*input));
}

std::string all_systems() {
  std::string names;
  for (const EnergySupply supply : all_energy_supplies) {
    names += fmt::format("{}'{}'", names.empty() ? "" : ", ", name_of(supply));
  }
  return names;
}

std::string finite(const std::string& text) {
  try {
    std::size_t end = 0;
    return std::isfinite(std::stod(text, &end)) && end == text.size() ? std::string()
                                                                      : text + " is no number";
  } catch (const std::exception&) {
    return text + " is no number";
  }
}

}  // namespace

void add_simulate_command(CLI::App& program, int& status) {
  auto options = std::make_shared<Options>();
  CLI::App* const command = program.add_subcommand(
      "simulate", "contact force of pantographs on a contact line, by mechanics");
  const auto not_empty = [](const std::string& text) {
    return text.empty() ? std::string("is empty") : std::string();
  };
  command->add_option("--line", options->line, "the contact line")->required()->type_name("FILE");
  command
      ->add_option("--pantograph", options->pantographs,
                   "a pantograph's mechanical model, front first; one stands for all")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option("--spacing", options->spacings_m,
                   "of a further pantograph behind the one before it; may be given several times")
      ->type_name("M")
      ->allow_extra_args(false)
      ->check(finite);
  command->add_option("--speed", options->speed_kmh, "speed of the train")
      ->type_name("KMH")
      ->check(finite);
  command
      ->add_option(
          "--knuckle", options->knuckles,
          "leading or trailing, once for all pantographs or once for each; default leading")
      ->check(CLI::IsMember({"leading", "trailing"}))
      ->type_name("WHERE")
      ->allow_extra_args(false);
  command
      ->add_option("--system", options->supply,
                   "energy supply system, where the static force hangs on it")
      ->type_name("SYSTEM")
      ->check([](const std::string& text) {
        return energy_supply_named(text)
                   ? std::string()
                   : "'" + text + "' is no energy supply system; " + all_systems() + " are";
      });
  command->add_option("--from-m", options->from_m, "where the evaluated stretch begins")
      ->type_name("M")
      ->check(finite);
  command->add_option("--to-m", options->to_m, "where it ends")->type_name("M")->check(finite);
  command->add_option("--step-ms", options->step_ms, "time step")->type_name("MS")->check(finite);
  command->add_option("--temperature-c", options->temperature_c, "of the wires")
      ->type_name("C")
      ->check(CLI::Range(-60.0, 100.0));
  command->add_option("--ice-kg-per-m", options->ice_kg_per_m, "ice on each wire")
      ->type_name("KG")
      ->check(CLI::Range(0.0, 20.0));
  CLI::Option* const trace =
      command->add_option("--trace", options->trace, "history of the evaluated stretch, as CSV")
          ->type_name("FILE")
          ->check(not_empty);
  command
      ->add_option("--out", options->out,
                   "folder for text, JSON, trace and plots as PDF, SVG and PNG")
      ->type_name("DIR")
      ->check(not_empty);
  command
      ->add_flag("--static", options->at_rest,
                 "the line at rest: dropper forces, heights, elasticity")
      ->excludes(trace);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run(*options); });
}

}  // namespace panup
