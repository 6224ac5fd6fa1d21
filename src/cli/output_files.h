#pragma once

#include <string>
#include <vector>

#include "base/diagnostics.h"

namespace panup {

/// A file to be written, whole in memory.
struct OutputFile {
  std::string name;
  std::string bytes;
};

/// Writes all files into a folder, which is made if it is missing: each under a temporary name
/// first, and under its own only when all are on the disk. On failure the temporary ones are
/// removed and earlier files left whole. Returns what went wrong; empty if nothing did.
std::string write_files(const std::string& folder, const std::vector<OutputFile>& files);

}  // namespace panup
