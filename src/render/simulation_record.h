#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/energy_supply.h"
#include "dynamics/simulate.h"
#include "dynamics/statics.h"
#include "plan/plan.h"

namespace panup {

/// A run along a contact line with what it was made of: a plain value from which text, JSON and
/// drawings are made, with nothing computed on the way but what is shown differently.
struct SimulationRecord {
  ContactLine line;
  std::vector<RunningPantograph> pantographs;  ///< first in front
  std::optional<EnergySupply> supply;          ///< whose static force was taken, where named
  bool knuckles_stated = false;                ///< else all were taken as leading
  LineWeather weather;
  SimulationResult result;
  std::vector<InputFile> inputs;  ///< "contact line" and "pantograph model"
  std::string program_version;
};

/// A contact line at rest with what it was made of.
struct RestRecord {
  ContactLine line;
  LineWeather weather;
  StaticState state;                      ///< of the whole line; its points are not looked at
  std::vector<StaticPoint> first_points;  ///< along the first spans, with elasticity
  int first_spans = 0;                    ///< how many spans these points cover
  std::vector<InputFile> inputs;
  std::string program_version;
};

/// The cautions that belong on every calculation handed out.
std::vector<std::string> calculation_cautions();

/// What a reader should know of a run: what is invented, where figures come from, what was assumed,
/// what the figures are not.
std::vector<std::string> notes_of(const SimulationRecord& record);
std::vector<std::string> notes_of(const RestRecord& record);

/// True where the line or a pantograph is demo data.
bool invented(const SimulationRecord& record);

std::string_view name_of(Knuckle knuckle);

/// "10 °C, no ice"; "−5 °C, ice of 0.5 kg/m on every wire".
std::string weather_words(const LineWeather& weather);

/// "CR 1600", or "CR 1600, HR 1950, 85 m behind the first"; "3 × CR 1600, 40 m and 125 m behind".
std::string pantographs_words(const std::vector<RunningPantograph>& pantographs);

/// How many times faster than real time a run was; 0 where it took no time that can be measured.
double real_time_factor(const SimulationResult& result);

/// How many of the droppers were slack at some time.
int slackened(const std::vector<DropperSlackening>& droppers);

}  // namespace panup
