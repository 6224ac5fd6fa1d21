#pragma once
/// The room `stock_tables`: vehicles out of a spreadsheet. Tables of pantograph types, classes,
/// roofs, single vehicles and wagons, saved as CSV, become one stock file. They are read (this
/// header), put together under the keys of a stock file and checked by its own reader, so that a
/// table is right where the file would be (`stock_from_tables.h`). What the vehicle register states
/// of its types becomes such tables, to be filled in (`types_from_register.h`). Mistakes are told
/// by file, row and column. A blank cell is unknown, and never "no".

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"

namespace panup {

/// A row of a table: its cells by the headings that are known, blank where there is no such column.
struct TableRow {
  std::vector<std::string> cells;
  std::vector<int> at;  ///< where each begins in its line, in characters from 1; 0: no such column
  int line = 0;         ///< of the file: the row as a spreadsheet counts it, which begins with the
                        ///< headings
};

/// What a kind of table may have.
struct TableKind {
  std::string_view what;  ///< "pantographs", "classes", "roofs", "vehicles", "wagons"
  std::span<const std::string_view> headings;
  std::size_t needed = 1;  ///< so many of the first are needed; without them no row says of what
                           ///< it speaks
};

struct StockTable {
  TableKind kind;
  std::string file;
  std::string sha256;
  std::vector<int> columns;  ///< of each known heading, counted from 1; 0: not there
  std::vector<TableRow> rows;

  /// The place of a heading among those that are known.
  std::size_t heading(std::string_view name) const;
  /// The cell under a known heading.
  const std::string& cell(const TableRow& row, std::string_view name) const;
};

/// Whether a row states what the column is for.
bool says(const StockTable& table, const TableRow& row, std::string_view heading);

inline constexpr std::size_t most_stock_rows = 20'000;

/// Reads a table whose first line has the headings, in any order, separated by commas or by
/// semicolons. Rows without any cell are passed over. Headings that are not known, stand twice or
/// are missing, and rows that do not fit them, go to `mistakes`; the rows that fit are there all
/// the same.
StockTable read_stock_table(const SourceText& source, const TableKind& kind, Diagnostics& mistakes);

/// A diagnostic at a cell, or where its column is missing at its row: "FILE:LINE:COLUMN: row 3,
/// column D: TEXT".
Diagnostic at_cell(const StockTable& table, const TableRow& row, std::string_view heading,
                   std::string_view text);
/// The same of a row: "FILE:LINE:1: row 3: TEXT".
Diagnostic at_row(const StockTable& table, const TableRow& row, std::string_view text);

/// A column as a spreadsheet names it: 1 is "A", 27 is "AA".
std::string column_letters(int column);

}  // namespace panup
