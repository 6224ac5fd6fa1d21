#pragma once

#include <string>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// What many runs of one line share: its static state in one weather, or why there is none.
struct PreparedLine {
  StaticState state;
  std::vector<Sentence> refusals;
};

PreparedLine prepare_line(const ContactLine& line, const SimulationSettings& settings);

/// As `simulate`, on a line prepared for the request's line and weather.
SimulationOutcome simulate_on(const PreparedLine& prepared, const SimulationRequest& request);

}  // namespace panup
