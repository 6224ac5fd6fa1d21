#pragma once

#include "drawing/diagram_sheets.h"
#include "figures/simulation.h"

namespace panup {

/// The sheets of a run: contact forces over chainage, three pantographs a sheet; uplift and
/// heights; histograms.
DiagramSheets simulation_sheets(const SimulationReport& report);

/// Mean + 3σ, mean and mean − 3σ of a contact force as levels.
std::vector<DiagramLevel> force_levels(double most_n, double mean_n, double least_n,
                                       const Words& words);

/// The sheet of a line at rest: its shape, dropper forces and elasticity over a span.
DiagramSheets statics_sheets(const StaticReport& report);

}  // namespace panup
