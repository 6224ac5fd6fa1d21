#pragma once

#include <string>

#include "render/simulation_record.h"

namespace panup {

/// The history of a run as CSV: a header row that names quantities and units, then one row a step,
/// from the first pantograph's entering the evaluated stretch to the last one's leaving it. Cells
/// of a pantograph that is not within the stretch are empty. Time counts from the first row. Empty
/// where the run kept no history.
std::string trace_csv(const SimulationRecord& record);

}  // namespace panup
