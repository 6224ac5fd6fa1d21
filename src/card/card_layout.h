#pragma once

#include <string>
#include <vector>

#include "card/route_strip.h"
#include "drawing/block.h"
#include "drawing/sheets.h"
#include "plan/plan.h"

namespace panup {

/// A block in its place on a sheet.
struct PlacedBlock {
  Block block;
  double y = 0;
};

/// A piece of the spine on a sheet.
struct SpineRun {
  double top = 0;
  double bottom = 0;
  std::size_t stretch = 0;  ///< index into `CardLayout::strip.stretches`
};

struct CardSheet {
  std::vector<PlacedBlock> blocks;
  std::vector<SpineRun> spine;
};

/// The driver's card, arranged on sheets and ready to be drawn on any surface.
struct CardLayout {
  SheetSize size = a4_portrait;
  Columns columns;
  RouteStrip strip;
  double wire_y = 0;  ///< first sheet: where the wire above the train turns down into the spine
  std::vector<CardSheet> sheets;
};

CardLayout arrange_card(const TextSetter& setter, const Plan& plan);

void draw_card_sheet(Canvas& canvas, const CardLayout& card, std::size_t sheet);

}  // namespace panup
