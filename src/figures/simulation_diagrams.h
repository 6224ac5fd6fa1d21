#pragma once

#include "drawing/diagram_sheets.h"
#include "figures/simulation.h"

namespace panup {

/// The sheets of a run: contact forces over chainage, three pantographs a sheet; uplift and
/// heights; histograms.
DiagramSheets simulation_sheets(const SimulationReport& report);

/// The sheet of a line at rest: its shape, dropper forces and elasticity over a span.
DiagramSheets statics_sheets(const StaticReport& report);

}  // namespace panup
