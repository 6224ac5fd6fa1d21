#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/toml_tree.h"

namespace panup {

/// The keys that an import writes into a table of this name ("network": the root of the file); all
/// others were added by hand. Empty: it writes no such table.
std::span<const std::string_view> keys_of_import(std::string_view table);

/// The same value in one form: keys in order, and a number the same with a point and without.
TomlNode one_form_of(TomlNode node);
bool same_value(const TomlNode& one, const TomlNode& other);

/// The comment that an import writes above each table: by it the next one knows whether somebody
/// has changed the table since. It is made of all that the table says.
std::string mark_of(const TomlEntries& table);

/// What the comment above a table says of how an import made it.
struct TableComment {
  std::string mark;                     ///< empty: none, so it was added by hand
  std::vector<std::string> not_stated;  ///< keys that the register left blank
};

/// The line that says so above a section.
std::string not_stated_line(const std::vector<std::string>& keys);

/// Reads the comment that stands above a line, counted from 1.
TableComment comment_above(const std::vector<std::string_view>& lines, int line);

/// Whether what an import writes into a table of this name still stands in it as it was made.
bool as_made(std::string_view name, const TomlEntries& table, const TableComment& comment);

}  // namespace panup
