#pragma once

#include <optional>
#include <string>

#include "base/file_source.h"
#include "dynamics/pantograph_model.h"

namespace panup {

/// Reads the mechanical model of a pantograph. Nothing, and diagnostics, where anything is wrong.
std::optional<PantographModel> read_pantograph_model(const SourceText& source,
                                                     Diagnostics& diagnostics);

/// The same of a file at a path.
std::optional<PantographModel> read_pantograph_model_file(
    const std::string& path, Diagnostics& diagnostics, const FileSource& files = files_on_disk());

}  // namespace panup
