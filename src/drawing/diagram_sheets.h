#pragma once

#include <string>
#include <vector>

#include "base/handed_out.h"
#include "drawing/diagram.h"
#include "drawing/sheets.h"

namespace panup {

/// A place on a sheet of diagrams, in shares of what is free on it.
struct PlacedDiagram {
  Diagram diagram;
  double left = 0;
  double top = 0;
  double width = 1;
  double height = 1;
};

/// Sheets of diagrams under one title, with the cautions at the foot of each.
struct DiagramSheets {
  std::string name;  ///< of the files: NAME.pdf, NAME-1.svg, NAME-1.png, …
  std::string title;
  std::string subtitle;
  bool invented = false;
  Words words = {};  ///< in which they are drawn
  std::vector<std::vector<PlacedDiagram>> sheets;
};

/// Adds diagrams one below the other, three a sheet, all of one height.
void add_rows(DiagramSheets& sheets, const std::vector<Diagram>& diagrams);

inline constexpr SheetSize a4_landscape{841.89, 595.276};

std::vector<RenderedFile> render_diagram_sheets(const DiagramSheets& sheets);

/// Draws one of them; what `render_diagram_sheets` draws with.
void draw_diagram_sheet(Canvas& canvas, const TextSetter& setter, const DiagramSheets& sheets,
                        std::size_t sheet);

}  // namespace panup
