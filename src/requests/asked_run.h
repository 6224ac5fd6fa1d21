#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "figures/envelope.h"
#include "figures/simulation.h"
#include "requests/mechanics_input.h"

namespace panup {

/// One run of the mechanics, as a command or the page asks for it.
struct AskedRun {
  std::vector<RaisedOnLine> raised;
  bool knuckles_stated = true;         ///< else all are taken as leading
  std::optional<EnergySupply> supply;  ///< whose static force is taken
  double speed_kmh = 0;
  std::optional<double> temperature_c;  ///< none: that which the line is built for
  std::optional<double> ice_kg_per_m;   ///< on every wire; none: no ice
  Words words = {};                     ///< in which it is said
};

/// The run on the line that was read; what else there is to set is left as it is. What is wrong is
/// added to `mistakes`; `with_system` says how a system is named, as in "with --system". The input
/// must outlive the request.
SimulationRequest request_of(const AskedRun& asked, const SimulationInput& input,
                             std::string_view with_system, std::vector<std::string>& mistakes);

/// The run that `request` was, with what is said of it when it is handed out.
SimulationReport report_of(const AskedRun& asked, const SimulationInput& input,
                           const SimulationRequest& request, SimulationResult result,
                           std::string_view program_version);

/// The same of an envelope.
EnvelopeReport report_of(const EnvelopeInput& input, Envelope envelope,
                         std::string_view program_version);

}  // namespace panup
