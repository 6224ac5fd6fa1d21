#include "files/named_files.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

std::optional<FileNamed> read_file_name(TomlTable& table, std::string_view key, Need need) {
  const auto name = table.text(key, need);
  return name ? std::optional(FileNamed{path_beside(table.file(), name), table.place_of(key)})
              : std::nullopt;
}

std::vector<FileNamed> read_file_names(TomlTable& table, std::string_view key) {
  const auto names = table.texts(key);
  std::vector<FileNamed> files;
  if (!names) {
    return files;
  }
  if (names->empty()) {
    table.report_at(key,
                    fmt::format("'{}' is empty; leave it out where there is no such file", key));
  }
  for (std::size_t i = 0; i < names->size(); ++i) {
    FileNamed named{path_beside(table.file(), (*names)[i]), table.place_of(key, i)};
    if (std::ranges::find(files, named.path, &FileNamed::path) != files.end()) {
      table.report(named.place, fmt::format("{} is named twice", named.path));
    } else {
      files.push_back(std::move(named));
    }
  }
  return files;
}

}  // namespace panup
