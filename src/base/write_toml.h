#pragma once

#include <string>

#include "base/toml_tree.h"

namespace panup {

/// A tree as a TOML file whose reading gives the same tree, places apart: plain values first, then
/// tables as [key] and lists of tables as [[key]], in their order. The root is a table.
std::string to_toml(const TomlNode& root);

/// Whether it is a list with tables alone in it, which is written as [[key]]; an empty one is none.
bool is_list_of_tables(const TomlNode& node);

/// A key as it stands before '=', in quotes where it has to be.
std::string key_to_toml(const std::string& key);

/// One value as it stands behind its key; tables and lists in one line.
std::string value_to_toml(const TomlNode& node);

}  // namespace panup
