#pragma once

#include <vector>

#include "drawing/block.h"
#include "plan/plan.h"
#include "wording/stretches.h"

namespace panup {

/// The route as it runs down the page: the wire is the spine, chainages stand at its left; beside
/// it the stretches with what is up and how fast, and in their places separation sections, stops
/// and the driver's orders. One row for each.
struct StripRow {
  Row row;
  std::size_t stretch = 0;      ///< index of the stretch it lies in
  bool begins_stretch = false;  ///< it is the stretch's own row
  double speed_kmh = 0;         ///< ordered last before or in this row; 0: none yet
};

struct RouteStrip {
  std::vector<Stretch> stretches;
  std::vector<StripRow> rows;
};

RouteStrip arrange_strip(const TextSetter& setter, const Plan& plan, const Columns& columns);

/// The heading of the strip's columns; `goes_on` says that the strip began on an earlier sheet.
Block strip_heading(const TextSetter& setter, const Columns& columns, bool goes_on);

/// What holds where a sheet begins in the middle of a stretch, after the row `before`.
Block stretch_reminder(const TextSetter& setter, const RouteStrip& strip, const StripRow& before,
                       const Columns& columns);

/// Draws the spine from `top` to `bottom` as it looks in a stretch: solid where pantographs are up,
/// broken where they are down, gone where nothing is permitted.
void draw_spine(Canvas& canvas, const Columns& columns, const PlannedSection& section, double top,
                double bottom);

}  // namespace panup
