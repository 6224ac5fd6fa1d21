#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/toml_outline.h"
#include "base/toml_tree.h"

namespace panup {

/// How a new list of tables, or a new table, is written.
enum class TomlLayout : std::uint8_t {
  under_headers,  ///< [[key]] or [key], with a line for each key
  in_one_line     ///< key = [{ … }, { … }]
};

/// A value of a file that is to become another one.
struct TomlChange {
  TomlPath at;
  /// Nothing: the value is taken out. The last value of a list takes the list with it.
  std::optional<TomlNode> to = {};
  TomlLayout layout = TomlLayout::under_headers;
  /// Where both are lists of tables: which of the old ones each of the new ones is, or that it is
  /// new. What the text has for a table goes with it, its comments too (base/arrange_tables.h).
  /// Empty: each is the one at its place. As long as the list in `to` otherwise; one that does not
  /// fit, or that was named before, is new.
  std::vector<std::optional<std::size_t>> from = {};
};

/// The text of a file with a value changed, added or taken out, and all else as it was to the byte:
/// comments, order, layout and line breaks. Tables that are on the way and not there are made; a
/// place one behind the last of a list adds to it. What is in a table or list that stays is changed
/// key by key.
///
/// Nothing, and why, where the text has mistakes, where the change leads through what is no table
/// or list, or where it could not be made without touching something else. The text that is given
/// has been read again, and says what it said before but for the change.
std::optional<std::string> change_toml(const SourceText& source, const TomlChange& change,
                                       Diagnostics& diagnostics);

/// The value that a path leads to; null where there is none.
const TomlNode* find_value(const TomlNode& root, const TomlPath& path);

/// Whether two values say the same; places and the order of keys apart.
bool say_the_same(const TomlNode& a, const TomlNode& b);

}  // namespace panup
