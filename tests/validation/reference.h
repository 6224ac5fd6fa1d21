#pragma once

#include "dynamics/simulate.h"

namespace panup::validation {

/// The reference line of EN 50318:2002 (from memory), drawn out to a number of spans; as shipped in
/// data/lines, which one of the agreements compares it with.
ContactLine reference_line(int spans);
PantographModel reference_pantograph();

/// A run of reference pantographs at these distances behind the first (which is not listed).
SimulationRequest reference_request(const ContactLine& line, double speed_kmh, double force_n,
                                    const std::vector<double>& behind_m);

/// The result; throws what the run was refused for.
SimulationResult result_of(const SimulationRequest& request);

}  // namespace panup::validation
