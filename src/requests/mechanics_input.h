#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "base/handed_out.h"
#include "dynamics/simulate.h"
#include "plan/plan.h"
#include "quality/envelope.h"
#include "rules/rule_book.h"

namespace panup {

/// A contact line and pantographs for a run, with the files they were read from.
struct SimulationInput {
  ContactLine line;
  std::vector<PantographModel> models;  ///< as many as paths, in their order
  std::vector<InputFile> files;
};

/// Reads all files, so that the mistakes of all of them are seen at once; nothing, and at least one
/// diagnostic, if anything is wrong. A path may be given several times.
std::optional<SimulationInput> read_simulation_input(const std::string& line,
                                                     const std::vector<std::string>& pantographs,
                                                     const FileSource& files,
                                                     Diagnostics& diagnostics);

/// Where a pantograph of a run stands.
struct RaisedOnLine {
  std::size_t model = 0;  ///< index into the models
  Knuckle knuckle = Knuckle::leading;
  double behind_first_m = 0;
};

/// The pantographs of a run, with their static force on `supply`. What is wrong is added to
/// `mistakes`; `with_system` says how a system is named, as in "with --system".
std::vector<RunningPantograph> running_pantographs(const std::vector<PantographModel>& models,
                                                   const std::vector<RaisedOnLine>& raised,
                                                   std::optional<EnergySupply> supply,
                                                   std::string_view with_system,
                                                   std::vector<std::string>& mistakes,
                                                   const Words& words = {});

/// Ice being that on every wire; what is not stated is as the line is built for.
LineWeather weather_on(const ContactLine& line, std::optional<double> temperature_c,
                       std::optional<double> ice_kg_per_m);

/// Why a run would be too long to be kept in memory; empty where it is not.
std::string too_long(const SimulationRequest& request);

/// What an envelope is computed from, with the files.
struct EnvelopeInput {
  ContactLine line;
  PantographModel pantograph;
  RuleBook rules;
  std::vector<InputFile> files;
};

inline constexpr std::size_t most_envelope_spacings = 200;
inline constexpr std::size_t most_envelope_speeds = 400;

/// The rule book is in the language of `words`, in which all that comes of it is said.
std::optional<EnvelopeInput> read_envelope_input(const std::string& line,
                                                 const std::string& pantograph,
                                                 const std::vector<std::string>& rules,
                                                 const FileSource& files, Diagnostics& diagnostics,
                                                 const Words& words = {});

/// Directions of running for "leading", "trailing" or "both"; one, where both come to the same.
std::vector<Knuckle> knuckles_named(std::string_view name, const PantographModel& model);

/// Why a model has no static force on `supply`; `with_system` says how a system is named.
std::string no_static_force(const PantographModel& model, std::optional<EnergySupply> supply,
                            std::string_view with_system, const Words& words = {});

/// What speeds are looked at by, and samples are drawn by, and is not in force.
std::vector<std::string> rules_missing(const RuleBook& rules, bool samples);

/// Gives the request line, pantograph, rules and, on its `supply`, static force; adds to `mistakes`
/// what is wrong between them and `samples`. The input must outlive the request.
void set_input(EnvelopeRequest& request, const EnvelopeInput& input, std::string_view with_system,
               std::vector<std::string>& mistakes);

}  // namespace panup
