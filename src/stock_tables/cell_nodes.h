#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "base/source_text.h"
#include "base/toml_tree.h"
#include "stock_tables/table_rows.h"

namespace panup {

/// A cell, or a row where `heading` is empty.
struct CellPlace {
  const StockTable* table = nullptr;
  const TableRow* row = nullptr;
  std::string_view heading;
};

/// Makes values of cells. Each remembers its cell, by its line: what a reader says of the value is
/// said of the cell then.
class CellNodes {
 public:
  /// Mistakes go to `mistakes`, which must outlive it.
  CellNodes(bool decimal_comma, Diagnostics& mistakes)
      : decimal_comma_(decimal_comma), mistakes_(mistakes) {}

  TomlNode placed(CellPlace place, decltype(TomlNode::value) value);

  /// Where a value that was placed comes from.
  const CellPlace& place_of(const TomlNode& node) const;

  /// Adds the value of a cell that is not blank under its heading; a mistake where it is none.
  void add_value(const StockTable& table, const TableRow& row, std::string_view heading,
                 TomlEntries& entries);

  /// Says of its cell, or of its row, what a reader has found in a tree of such values.
  void take_found(const Diagnostic& found);
  /// Whether a line of such a tree is that of a value.
  bool has_placed(int line) const;

 private:
  std::optional<TomlNode> value_of(const StockTable& table, const TableRow& row,
                                   std::string_view heading);
  void report(const StockTable& table, const TableRow& row, std::string_view heading,
              std::string_view text);
  void report_no_number(const StockTable& table, const TableRow& row, std::string_view heading);
  std::optional<double> number_of(const std::string& text) const;

  bool decimal_comma_;
  Diagnostics& mistakes_;
  std::vector<CellPlace> places_;  ///< of the values, by their line
  /// Cells that are no value, which has been told.
  std::set<std::tuple<const StockTable*, const TableRow*, std::string_view>> wrong_;
  std::set<const StockTable*> with_other_mark_;  ///< tables with the other decimal mark
};

}  // namespace panup
