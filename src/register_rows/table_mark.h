#pragma once

#include <optional>
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

/// The comment that an import writes above each table: by it the next one knows which values
/// somebody has changed since. It has some digits for each key that an import may write.
std::string mark_of(std::string_view name, const TomlEntries& table);
/// The line with it.
std::string mark_line(std::string_view name, const TomlEntries& table);

/// The mark that stands above a line, counted from 1; empty where there is none, or one that says
/// nothing of the keys of today: then somebody has added the table, or an earlier version made it.
std::string mark_above(const std::vector<std::string_view>& lines, int line, std::string_view name);

/// Whether what stands under a key is what an import made; `node` is null where nothing stands
/// there. Nothing where no mark says so, or no import writes the key.
std::optional<bool> as_made(std::string_view name, std::string_view mark, std::string_view key,
                            const TomlNode* node);

/// By what a table of a network is found in another one.
std::string identity_of(std::string_view name, const TomlEntries& table);

/// What stands under a key of a table; null and empty where it is not there, or no text.
const TomlNode* find_under(const TomlEntries& table, std::string_view key);
std::string text_under(const TomlEntries& table, std::string_view key);
std::optional<double> number_under(const TomlEntries& table, std::string_view key);

}  // namespace panup
