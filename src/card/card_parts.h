#pragma once

#include <vector>

#include "drawing/block.h"
#include "pictures/train_drawing.h"
#include "plan/plan.h"

namespace panup {

/// The head of a sheet: train, route, page number, mark of invented data; on the first sheet also
/// what the card is valid for and the answer. Where the answer is not "permitted", a heavy bar says
/// so on every sheet.
Block card_head(const TextSetter& setter, const Plan& plan, const Columns& columns,
                std::size_t sheet, std::size_t sheets);

/// What the office states of the card, in cells below the names of the first sheet; what it does
/// not state has a line to be filled in by hand.
Block office_cells(const TextSetter& setter, const Release& release, const Columns& columns);

/// The foot of every sheet: the cautions, since sheets get separated.
Block card_foot(const TextSetter& setter, const Plan& plan, const Columns& columns);

/// The train as it departs, large, beside the spine. `wire_below_top` receives where its wire is.
Block card_train(const TextSetter& setter, const Plan& plan, const Columns& columns,
                 double& wire_below_top);

/// The heading of a part of the card below the strip.
Block part_heading(const TextSetter& setter, const Columns& columns, const std::string& title,
                   bool goes_on);

/// The heading of the columns of the fallback table, and its rows.
Block fallback_heading(const TextSetter& setter, const Columns& columns);
std::vector<Row> fallback_rows(const TextSetter& setter, const Plan& plan, const Columns& columns);

/// What was accepted as a last resort, needs consent, is forbidden or is not as prescribed, and
/// what the driver has to know, with sources.
std::vector<Row> accepted_rows(const TextSetter& setter, const Plan& plan, const Columns& columns);

/// What was not checked, what is invented.
std::vector<Row> note_rows(const TextSetter& setter, const Plan& plan, const Columns& columns);

}  // namespace panup
