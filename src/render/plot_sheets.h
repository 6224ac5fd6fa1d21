#pragma once

#include <string>
#include <vector>

#include "render/card.h"
#include "render/plot.h"
#include "render/sheets.h"

namespace panup {

/// A place on a sheet of plots, in shares of what is free on it.
struct PlacedPlot {
  Plot plot;
  double left = 0;
  double top = 0;
  double width = 1;
  double height = 1;
};

/// Sheets of plots under one title, with the cautions at the foot of each.
struct PlotSheets {
  std::string name;  ///< of the files: NAME.pdf, NAME-1.svg, NAME-1.png, …
  std::string title;
  std::string subtitle;
  bool invented = false;
  std::vector<std::vector<PlacedPlot>> sheets;
};

inline constexpr SheetSize a4_landscape{841.89, 595.276};

std::vector<RenderedFile> render_plot_sheets(const PlotSheets& sheets);

/// Draws one of them; what `render_plot_sheets` draws with.
void draw_plot_sheet(Canvas& canvas, const TextSetter& setter, const PlotSheets& sheets,
                     std::size_t sheet);

}  // namespace panup
