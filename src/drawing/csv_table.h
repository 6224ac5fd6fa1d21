#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/handed_out.h"

namespace panup {

/// What the cells of a column hold. Flags are "yes" and "no"; numbers have a decimal point and as
/// many digits as they have.
enum class CellKind : std::uint8_t { text, number, whole, flag };

/// What an empty cell says.
enum class EmptyCell : std::uint8_t {
  never,       ///< there is none
  not_stated,  ///< null
  empty        ///< the empty text, or the list without anything in it
};

struct CsvColumn {
  std::string name;  ///< the heading
  CellKind kind = CellKind::text;
  EmptyCell empty = EmptyCell::never;
  std::string meaning;
  std::string unit = {};  ///< "km/h"; empty: it has none
  bool is_list = false;   ///< of things without a space in them, with a space between two
};

/// A table to be written as comma-separated values (RFC 4180) with a file beside it that says what
/// its columns are: their types, units and meaning, which of them name a row, and what an empty
/// cell says. That is metadata of CSV on the Web (W3C Recommendation "Metadata Vocabulary for
/// Tabular Data", 17 December 2015), so that programs that know nothing of trains read the values
/// back as they were.
struct CsvTable {
  std::string name;  ///< of the file, without its ending
  std::string title;
  std::vector<CsvColumn> columns;
  std::vector<std::string> key;  ///< columns that name a row
  /// An object each; a column is the field of its name, and null or missing where it is not stated.
  std::vector<nlohmann::ordered_json> rows = {};
};

/// What goes with every table: the cautions, and the mark of demo data.
struct CsvRemarks {
  bool invented = false;
  std::string thing;  ///< what the cautions are of: "plan"
};

/// The heading and the rows.
std::string csv_text(const CsvTable& table);

/// The metadata of a table that is written as the file of this name. The rows are not looked at.
std::string csv_metadata(const CsvTable& table, const std::string& file, const CsvRemarks& remarks);

/// The name of the file with the metadata of another one: "orders.csv-metadata.json", where the
/// Recommendation looks for it.
std::string csv_metadata_name(const std::string& file);

/// `NAME.csv` and its metadata, of each table.
std::vector<RenderedFile> csv_files(const std::vector<CsvTable>& tables, const CsvRemarks& remarks);

}  // namespace panup
