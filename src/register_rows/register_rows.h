#pragma once
/// The room `register_rows`: what the infrastructure register answers to two queries, made into a
/// network. Its rows name sections of line, their tracks and what holds there, one row for each
/// combination of values. They are read (this header), grouped by section (`sections.h`), chained
/// into lines with kilometres (`chain_lines.h`), given their separation sections
/// (`place_separations.h`) and written (`network_text.h`). `register_to_network.h` is the whole
/// way. Where there is a network already, `network_changes.h` says in what it differs and what of
/// it was stated by hand, `touched_runs.h` which trains come by that, and `changes_report.h` tells
/// it. The queries stand in docs/register.md. What a row leaves blank is unknown and stays so.

#include <istream>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostics.h"

namespace panup {

/// A row of an answer: its cells in the order of the columns asked for, empty where unbound.
struct RegisterRow {
  std::vector<std::string> cells;
  int number = 0;  ///< from 1
  int line = 0;    ///< of the file; 0 where rows and lines have nothing to do with one another
};

/// The answer to a query.
struct RegisterRows {
  std::string file;
  std::string sha256;         ///< of its bytes
  std::string answered = {};  ///< the day of the answer as it states it, YYYY-MM-DD; may be empty
  std::vector<RegisterRow> rows;
};

inline constexpr std::size_t most_register_rows = 1'000'000;
inline constexpr std::size_t longest_register_cell = 60'000;

/// Reads the answer to a SPARQL 1.1 query, as JSON or as CSV (W3C Recommendations of 21 March
/// 2013), whichever it is. JSON is taken in as it comes, so that only the cells are kept. What
/// makes the file unusable goes to `mistakes`: it is neither, breaks off, or lacks a column. A
/// column that is not asked for is passed over, and said so in `notes`; but for `answered`, which
/// may say when the register answered. `sha256` is left empty.
RegisterRows read_register_rows(std::istream& stream, const std::string& file,
                                std::span<const std::string_view> columns, Diagnostics& mistakes,
                                Diagnostics& notes);

/// The same of a file on the disk, with its SHA-256.
RegisterRows load_register_rows(const std::string& path, std::span<const std::string_view> columns,
                                Diagnostics& mistakes, Diagnostics& notes);

/// A diagnostic at a row: "FILE:LINE:1: row NUMBER: text".
Diagnostic at_row(const std::string& file, const RegisterRow& row, std::string_view text);

}  // namespace panup
