#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace panup {

/// Columns a text takes in a terminal: wide characters take two, combining ones none.
std::size_t columns_of(std::string_view text);

/// Breaks a text at spaces into lines of at most `width` columns; a word that is longer is broken
/// where the line ends. A number stays with its unit. An empty text is one empty line.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// `lead`, then the text wrapped beside it; further lines are indented by the columns of `lead`.
/// Ends with a line feed.
std::string hanging(std::string_view lead, std::string_view text, std::size_t width);

/// A column of a table. `width` 0: as wide as its widest cell, up to `greatest`.
struct TableColumn {
  std::string heading;
  bool right_aligned = false;
  std::size_t width = 0;
  std::size_t greatest = 100;
};

/// A table of text with two spaces between columns. The last column takes what is left of `width`
/// columns. Cells wrap.
std::string text_table(const std::vector<TableColumn>& columns,
                       const std::vector<std::vector<std::string>>& rows, std::size_t indent,
                       std::size_t width);

}  // namespace panup
