#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/handed_out.h"

namespace panup {

/// A file to be written, whole in memory.
struct OutputFile {
  std::string name;
  std::string bytes;
};

/// Why files were not written, in one line that names the file or folder.
struct WriteFailure {
  std::string text;
  bool folder_unusable = false;  ///< nothing could be written to the folder as it was named
};

/// Writes all files into a folder, which is made if it is missing: each under a temporary name
/// first, and under its own only when all are on the disk. On failure the temporary ones and a
/// folder made for them are removed, and earlier files left whole. Nothing if all went well.
std::optional<WriteFailure> write_files(const std::string& folder,
                                        const std::vector<OutputFile>& files);

/// Adds files that have been rendered.
void add_rendered(std::vector<RenderedFile> rendered, std::vector<OutputFile>& files);

/// The paths of input files.
template <typename Inputs>
std::vector<std::string> paths_of(const Inputs& inputs) {
  std::vector<std::string> paths;
  for (const auto& input : inputs) {
    paths.push_back(input.path);
  }
  return paths;
}

/// Why nothing may be written to a path, or empty: one of `inputs` is the same file, if by another
/// name, or by a link.
std::string input_in_the_way(const std::string& path, const std::vector<std::string>& inputs);

/// What of writing is told on standard error.
enum class Told : std::uint8_t { all, failures };

/// The same as a step of a command: says on standard error what was written or why not, and gives
/// the exit status. Nothing is written where one of the files is one of `inputs`.
int write_out(const std::string& folder, const std::vector<OutputFile>& files,
              const std::vector<std::string>& inputs, Told told = Told::all);

/// Where a file at a path goes.
struct FilePlace {
  std::string folder;
  std::string name;
};

/// Nothing where the path names no file that could be written.
std::optional<FilePlace> file_place(const std::string& path);

}  // namespace panup
