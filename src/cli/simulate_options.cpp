#include "cli/simulate_options.h"

#include <fmt/format.h>

#include "cli/option_checks.h"

namespace panup {

namespace {

std::string counted(std::size_t number, std::string_view what) {
  return fmt::format("{} {}{}", number, what, number == 1 ? "" : "s");
}

}  // namespace

void add_simulate_options(CLI::App& command, SimulateOptions& options) {
  command.add_option("--line", options.line, "the contact line")->required()->type_name("FILE");
  std::vector<CLI::Option*> of_runs;
  const auto of_run = [&of_runs](CLI::Option* option) {
    of_runs.push_back(option);
    return option;
  };
  of_run(command.add_option("--pantograph", options.pantographs,
                            "the mechanical model of a pantograph; may be given several times, "
                            "first in front"))
      ->type_name("FILE")
      ->allow_extra_args(false);
  of_run(command.add_option("--spacing", options.spacings,
                            "distance of a pantograph from the one before; may be given several "
                            "times. With one model, so many more like it"))
      ->type_name("M")
      ->check(number_from(1, 2000))
      ->allow_extra_args(false);
  of_run(command.add_option("--speed", options.speed_kmh, "speed of the train, 5 to 500"))
      ->type_name("KMH")
      ->check(number_from(5, 500));
  of_run(command.add_option("--system", options.system,
                            "energy supply system whose static force is taken, as in "
                            "\"AC 25 kV 50 Hz\""))
      ->type_name("NAME")
      ->check(CLI::IsMember(names_of_systems()));
  of_run(command.add_option("--knuckle", options.knuckles,
                            "leading or trailing: once for all pantographs or once for each; "
                            "leading where not given"))
      ->type_name("WAY")
      ->check(CLI::IsMember({"leading", "trailing"}))
      ->allow_extra_args(false);
  of_run(command.add_option("--from-m", options.from_m,
                            "where the evaluated stretch begins, along the line"))
      ->type_name("M")
      ->check(number_from(0, 60000));
  of_run(command.add_option("--to-m", options.to_m, "where the evaluated stretch ends"))
      ->type_name("M")
      ->check(number_from(0, 60000));
  of_run(command.add_option("--step-ms", options.step_ms,
                            "step in time, 0.05 to 5; 1.5 where not given, 1 on wires with bending "
                            "stiffness"))
      ->type_name("MS")
      ->check(number_from(0.05, 5));
  command
      .add_option("--temperature-c", options.temperature_c,
                  "temperature, -60 to 60; that which the line is built for where not given")
      ->type_name("C")
      ->check(number_from(-60, 60));
  command
      .add_option("--ice-kg-per-m", options.ice_kg_per_m,
                  "ice on every wire, 0 to 10; none where not given")
      ->type_name("KG")
      ->check(number_from(0, 10));
  of_run(command.add_option("--trace", options.trace,
                            "file for the history of contact force and heights, as CSV"))
      ->type_name("FILE.csv")
      ->check(not_empty());
  command
      .add_option(
          "--out", options.out,
          "folder for the result as text and JSON, its history as CSV and plots as PDF, SVG "
          "and PNG")
      ->type_name("DIR")
      ->check(not_empty());
  CLI::Option* const at_rest = command.add_flag(
      "--static", options.at_rest,
      "the line at rest instead: droppers, sags and elasticity; no pantograph and no speed");
  for (CLI::Option* const option : of_runs) {
    at_rest->excludes(option);
  }
}

std::vector<std::string> mistakes_of(const SimulateOptions& options) {
  std::vector<std::string> mistakes;
  if (options.pantographs.empty()) {
    mistakes.emplace_back("--pantograph is missing: the pantograph model, once or several times");
  }
  if (!options.speed_kmh) {
    mistakes.emplace_back("--speed is missing: the speed of the train in km/h");
  }
  const std::size_t models = options.pantographs.size();
  if (models > 1 && options.spacings.size() + 1 != models) {
    mistakes.push_back(fmt::format(
        "{} pantographs take {}, --spacing M, each the distance from the one before; {} given",
        models, counted(models - 1, "spacing"),
        options.spacings.empty() ? std::string("none is")
                                 : fmt::format("{} {}", options.spacings.size(),
                                               options.spacings.size() == 1 ? "is" : "are")));
  }
  const std::size_t raised = models > 1 ? models : options.spacings.size() + 1;
  if (options.knuckles.size() > 1 && options.knuckles.size() != raised) {
    mistakes.push_back(
        fmt::format("--knuckle is given {} times for {}: once for all of them, or once for each",
                    options.knuckles.size(), counted(raised, "pantograph")));
  }
  return mistakes;
}

}  // namespace panup
