#pragma once

#include <optional>
#include <string>
#include <vector>

#include "files/document.h"

namespace panup {

/// An input file with what is wrong with it.
struct CheckedFile {
  std::string path;
  std::optional<FileKind> kind;     ///< nothing where it does not say, or cannot be read
  Diagnostics mistakes;             ///< by place
  Diagnostics notices;              ///< by place: no mistakes, but plans take the safe side there
  std::string remark;               ///< what a check without mistakes rests on, or leaves open
  std::vector<std::string> routes;  ///< conditions: ids of the routes that have all their sections
};

/// Checks files together. A folder stands for all `.toml` files in it and in its folders, by name;
/// what begins with a point is passed over.
///
/// Stock files are read together, as a train reads them: a vehicle type may name a pantograph type
/// of any of them. A rule book may change entries of any other book given. Sections that conditions
/// name are looked up in the routes given: in one of which all are sections, or else in the one
/// that lacks fewest, and the remark or the mistake says in which. Where vehicle types are given,
/// the remark on a route says what its separation sections mean for double heading with them.
std::vector<CheckedFile> check_files(const std::vector<std::string>& paths);

}  // namespace panup
