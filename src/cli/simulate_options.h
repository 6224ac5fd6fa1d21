#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/commands.h"

namespace panup {

/// The command line of `panup simulate`.
struct SimulateOptions {
  CommonOptions common;
  std::string line;
  std::vector<std::string> pantographs;
  std::vector<double> spacings;
  std::vector<std::string> knuckles;
  std::optional<double> speed_kmh;
  std::string system;
  std::optional<double> from_m;
  std::optional<double> to_m;
  std::optional<double> step_ms;
  std::optional<double> temperature_c;
  std::optional<double> ice_kg_per_m;
  std::string language = "en";
  bool at_rest = false;
  std::string trace;
  std::string out;
};

/// Adds all of them but the common ones. `options` must outlive `command`.
void add_simulate_options(CLI::App& command, SimulateOptions& options);

/// What is wrong with the command line of a run as a whole; empty where nothing is.
std::vector<std::string> mistakes_of(const SimulateOptions& options);

}  // namespace panup
