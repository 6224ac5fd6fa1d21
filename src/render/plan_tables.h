#pragma once

#include <span>
#include <vector>

#include "drawing/csv_table.h"
#include "plan/plan.h"

namespace panup {

/// The sections and orders of a plan as tables, with what hangs on a section in tables of its own:
/// `sections`, `section-lines`, `section-findings`, `section-loads` and `orders`. They say what the
/// fields of these names in the plan's JSON say, value by value. `parts`: of a run each of its
/// plans, counted from 1; of a train on a route the one.
std::vector<CsvTable> plan_tables(std::span<const Plan> parts);

/// What goes with them.
CsvRemarks remarks_on(std::span<const Plan> parts);

}  // namespace panup
