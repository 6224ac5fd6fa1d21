#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/file_source.h"
#include "dynamics/mechanics_data.h"
#include "line/route.h"
#include "stock/train.h"

namespace panup {

/// Contact lines of a route and mechanical models of a train's pantographs, with the files that
/// they were read from.
struct MechanicsFiles {
  MechanicsData data;
  std::vector<std::string> line_paths;
  std::vector<std::string> pantograph_paths;
};

/// Reads the contact line types that the route's sections name, from the folder it names, and the
/// models that the train's pantograph types name, from the folder their stock file names. The file
/// of a name is that name in lower case with `.toml`, and has it as its id. What has no file is
/// left out; a file with mistakes is reported, and nothing returned.
std::optional<MechanicsFiles> read_mechanics_data(const Route& route, const Train& train,
                                                  Diagnostics& diagnostics,
                                                  const FileSource& files = files_on_disk());

}  // namespace panup
