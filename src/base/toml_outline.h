#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/source_text.h"

namespace panup {

/// A key of a table, or a place in a list, from 0.
using TomlStep = std::variant<std::string, std::size_t>;
/// The way from the root of a file to a value.
using TomlPath = std::vector<TomlStep>;

bool begins_with(const TomlPath& path, const TomlPath& beginning);

/// A piece of a text, in bytes; `end` is behind it.
struct TomlSpan {
  std::size_t begin = 0;
  std::size_t end = 0;
};

enum class TomlStatementKind : std::uint8_t {
  value,  ///< `key = value`
  table,  ///< `[table]`
  entry   ///< `[[list]]`, of which `at` ends with the place in the list
};

/// What stands on one line of a file, or on several where its value does.
struct TomlStatement {
  TomlStatementKind kind = TomlStatementKind::value;
  TomlPath at;            ///< of the value, or of the table that it begins
  std::size_t own = 0;    ///< how many of the last steps of `at` stand in the statement itself
  TomlSpan lines;         ///< its lines whole: indentation, comment behind it and line break
  std::size_t first = 0;  ///< where it begins, behind the indentation
  TomlSpan value;         ///< of `value` alone
};

/// Where in a text which value stands, in order. The text must be sound TOML that `parse_toml` has
/// taken without a word: nothing is checked here again.
std::vector<TomlStatement> outline_of(const SourceText& source);

/// What stands between the brackets of a list or of a table in one line.
struct TomlPart {
  TomlPath keys;   ///< of a table: its key, or the parts of it; of a list: its place
  TomlSpan whole;  ///< of a table: key and value; of a list: the value
  TomlSpan value;
};
/// The parts of a value that is a list in [ ] or a table in { }; none of another.
std::vector<TomlPart> parts_of(const SourceText& source, TomlSpan value);

}  // namespace panup
