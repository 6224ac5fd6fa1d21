#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/source_text.h"
#include "base/toml_guard.h"

namespace panup {

struct TomlEntry;
struct TomlNode;

using TomlArray = std::vector<TomlNode>;
using TomlEntries = std::vector<TomlEntry>;
/// A date or time. Only a day, without time and zone, or a time of day by itself is an input of
/// this program.
struct TomlDate {
  bool is_day = false;
  int year = 0;
  int month = 0;
  int day = 0;
  bool is_time = false;
  int hour = 0;
  int minute = 0;
  int second = 0;

  bool operator==(const TomlDate&) const = default;
};

/// A value of a TOML file with its place.
struct TomlNode {
  int line = 0;
  int column = 0;
  std::variant<bool, std::int64_t, double, std::string, TomlDate, TomlArray, TomlEntries> value;
};

struct TomlEntry {
  std::string key;
  int line = 0;
  int column = 0;
  TomlNode node;
};

/// Parses the text into a tree whose root is a table. Nothing, and a diagnostic at the place, where
/// the text is not sound, not TOML, or nested more than `greatest_nesting` deep. Where all that is
/// wrong are mistakes that `mend_toml` puts right, both: the diagnostics, and a tree from which the
/// reader can say what else is wrong. A tree is true to the file only where no diagnostic came with
/// it.
std::optional<TomlNode> parse_toml(const SourceText& source, Diagnostics& diagnostics);

/// What a value is, in plain words: "true", "a number", "a table", …
std::string kind_of(const TomlNode& node);

}  // namespace panup
