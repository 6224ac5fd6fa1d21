#include <algorithm>

#include "card/card_parts.h"
#include "drawing/text_style.h"
#include "wording/office_data.h"

namespace panup {

namespace {

constexpr double inset = 4;         // of a cell's text from its frame
constexpr double to_write_on = 20;  // below the name of what is filled in by hand
constexpr double line_above_end = 4;

/// A row of cells across the sheet, as wide as their shares of it.
struct CellRow {
  std::vector<OfficeEntry> entries;
  std::vector<double> shares;
};

Block row_block(const TextSetter& setter, const CellRow& row, const Columns& columns) {
  struct Cell {
    Text name;
    Text value;
    double x = 0;
    double width = 0;
  };
  double all = 0;
  for (const double share : row.shares) {
    all += share;
  }
  std::vector<Cell> cells;
  double x = columns.left;
  double height = 0;
  for (std::size_t i = 0; i < row.entries.size(); ++i) {
    const auto& [name, value] = row.entries[i];
    const double width = (columns.right - columns.left) * row.shares[i] / all;
    Cell cell{.name = setter.set(value.empty() ? setter.words().say("{} (fill in)", name) : name,
                                 small, width - 2 * inset),
              .value = setter.set(fitted(value), {.size_pt = 10, .weight = FontWeight::semibold},
                                  width - 2 * inset),
              .x = x,
              .width = width};
    height = std::max(height,
                      cell.name.height() + (value.empty() ? to_write_on : cell.value.height() + 1));
    x += width;
    cells.push_back(std::move(cell));
  }
  Block block;
  block.height = height + 3;
  block.draw = [cells, height = block.height](Canvas& canvas, double y) {
    for (const Cell& cell : cells) {
      canvas.frame({cell.x, y, cell.width, height}, {.width = 0.5});
      canvas.text(cell.name, {cell.x + inset, y + 1});
      canvas.text(cell.value, {cell.x + inset, y + 2 + cell.name.height()});
      if (cell.value.height() == 0) {
        canvas.line({cell.x + inset, y + height - line_above_end},
                    {cell.x + cell.width - inset, y + height - line_above_end}, {.width = 0.5});
      }
    }
  };
  return block;
}

}  // namespace

Block office_cells(const TextSetter& setter, const Release& release, const Columns& columns) {
  const Block run = row_block(setter, {office_run(release, setter.words()), {3, 4, 2, 3}}, columns);
  const Block names =
      row_block(setter, {office_names(release, setter.words()), {4, 4, 4}}, columns);
  Block block;
  block.height = run.height + names.height + 6;
  block.draw = [=](Canvas& canvas, double y) {
    run.draw(canvas, y);
    names.draw(canvas, y + run.height);
  };
  return block;
}

}  // namespace panup
