#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "base/toml_table.h"
#include "files/read_speed_table.h"

namespace panup {

/// The file that a key names, relative to the file it stands in.
std::optional<FileNamed> read_file_name(TomlTable& table, std::string_view key, Need need);

/// The files that a list names. Reports an empty list, and a file that is named twice.
std::vector<FileNamed> read_file_names(TomlTable& table, std::string_view key);

}  // namespace panup
