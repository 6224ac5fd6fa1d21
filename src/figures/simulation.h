#pragma once
/// The room `figures`: what is shown of the mechanics. A run, a line at rest and an envelope as
/// text, JSON and diagrams. They are finished when they come here; it knows nothing of plans.

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/energy_supply.h"
#include "base/handed_out.h"
#include "base/words.h"
#include "dynamics/simulate.h"
#include "dynamics/statics.h"

namespace panup {

/// A run of the mechanics with all that is said of it when it is handed out.
struct SimulationReport {
  ContactLine line;
  std::vector<RunningPantograph> pantographs;
  std::optional<EnergySupply> supply;  ///< whose static force was taken, where one was named
  bool knuckles_stated = false;        ///< else all are taken as leading
  LineWeather weather;
  SimulationResult result;
  std::vector<InputFile> inputs;
  std::string program_version;
  Words words = {};  ///< in which it is said
};

/// A line at rest, likewise.
struct StaticReport {
  ContactLine line;
  LineWeather weather;
  StaticState state;                ///< of the whole line; its points are not looked at
  std::vector<StaticPoint> points;  ///< with elasticity, along the spans that follow
  std::size_t points_from_span = 0;
  std::size_t points_to_span = 0;  ///< not included
  std::vector<InputFile> inputs;
  std::string program_version;
  Words words = {};  ///< likewise
};

/// "10 °C, no ice"; "−5 °C, ice of 0.5 kg/m on every wire".
std::string weather_words(const LineWeather& weather, const Words& words = {});

/// What a reader should know of a result: where figures come from, what was assumed, what the
/// figures are not.
std::vector<std::string> notes_of(const SimulationReport& report);
std::vector<std::string> notes_of(const StaticReport& report);

/// True where the line or a pantograph is demo data.
bool invented(const SimulationReport& report);

/// For a terminal: UTF-8, no colour, at most 100 columns, with the cautions.
std::string simulation_to_text(const SimulationReport& report);
std::string statics_to_text(const StaticReport& report);

/// For scripts; fields in `docs/schema/simulate.schema.json` and `docs/schema/statics.schema.json`.
nlohmann::ordered_json simulation_to_json(const SimulationReport& report);
nlohmann::ordered_json statics_to_json(const StaticReport& report);

/// Temperature and ice.
nlohmann::ordered_json weather_to_json(const LineWeather& weather);

/// The trace as comma-separated values: a heading with units, then a row for each step in which a
/// pantograph is within the evaluated stretch, pantograph by pantograph. It must have been kept.
std::string trace_to_csv(const SimulationResult& result);
/// The same as the file of this name, and beside it what says what its columns are.
std::vector<RenderedFile> trace_files(const SimulationReport& report, const std::string& file);

/// Plots on A4 sheets across, all from one drawing: `simulation.pdf`, and `simulation-1.svg`,
/// `simulation-1.png`, … one each. The trace must have been kept.
std::vector<RenderedFile> render_simulation(const SimulationReport& report);
/// Likewise `statics.pdf`, ….
std::vector<RenderedFile> render_statics(const StaticReport& report);

}  // namespace panup
