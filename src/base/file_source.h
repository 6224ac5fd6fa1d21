#pragma once

#include <functional>
#include <optional>
#include <string>

#include "base/source_text.h"

namespace panup {

/// Where files are read from that the user, or another file, names by a path.
struct FileSource {
  /// The text of a file; nothing, and a diagnostic, where it cannot be read.
  std::function<std::optional<SourceText>(const std::string& path, Diagnostics& diagnostics)> load;
  /// Whether there is a file at a path. One that may not be read is there: `load` says why.
  std::function<bool(const std::string& path)> has;
};

/// The file system, paths being what the machine takes them for.
FileSource files_on_disk();

}  // namespace panup
