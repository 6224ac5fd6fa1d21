#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "base/toml_outline.h"

namespace panup {

/// A table of a list, as it is to stand in a text.
struct ArrangedTable {
  std::optional<std::size_t> from;  ///< which of the list it is, from 0; none: it is new
  std::string lines;                ///< of a new one: header, keys and what is below
};

/// The text of a file in which the tables of a list, [[list]], stand in another order, some of them
/// gone and others new. A table takes with it what is below it, and the comments that stand at it:
/// those right above its header and those right below its last line. A comment between empty lines
/// belongs to no table and stays where it is.
///
/// None of the tables that are there is asked for twice. Nothing where what is said of a table is
/// strewn over the file. The text must be sound TOML that `parse_toml` has taken without a word.
std::optional<std::string> arrange_tables(const SourceText& source, const TomlPath& list,
                                          const std::vector<ArrangedTable>& tables,
                                          const std::string& line_break);

}  // namespace panup
