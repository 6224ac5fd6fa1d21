#pragma once

#include <string>
#include <vector>

#include "base/file_source.h"

namespace panup {

/// A file in the place of which another one is read.
struct ReplacedFile {
  std::string file;
  std::string by;
};

/// The path that is read where `path` is asked for: `by` of the first that replaces it, else
/// itself. Paths are the same where they name the same place, whether from the root or from where
/// the program runs; links are not followed.
std::string path_read_for(const std::string& path, const std::vector<ReplacedFile>& replaced);

/// Reads through `files`, each replaced file from the one in its place, under that one's name: what
/// it names is looked for beside it. Replaced is once: what stands in a place is not replaced in
/// its turn.
FileSource with_replaced(FileSource files, std::vector<ReplacedFile> replaced);

}  // namespace panup
