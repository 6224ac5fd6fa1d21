#include "base/replaced_files.h"

#include <algorithm>
#include <filesystem>
#include <utility>

namespace panup {

namespace {

std::filesystem::path whole_path(const std::string& path) {
  std::error_code error;
  const std::filesystem::path whole = std::filesystem::absolute(path, error);
  return (error ? std::filesystem::path(path) : whole).lexically_normal();
}

}  // namespace

std::string path_read_for(const std::string& path, const std::vector<ReplacedFile>& replaced) {
  if (replaced.empty() || path.empty()) {
    return path;
  }
  const std::filesystem::path asked = whole_path(path);
  const auto found = std::ranges::find_if(
      replaced, [&](const ReplacedFile& one) { return whole_path(one.file) == asked; });
  return found == replaced.end() ? path : found->by;
}

FileSource with_replaced(FileSource files, std::vector<ReplacedFile> replaced) {
  if (replaced.empty()) {
    return files;
  }
  FileSource source;
  source.load = [files, replaced](const std::string& path, Diagnostics& diagnostics) {
    return files.load(path_read_for(path, replaced), diagnostics);
  };
  source.has = [files, replaced = std::move(replaced)](const std::string& path) {
    return files.has(path_read_for(path, replaced));
  };
  return source;
}

}  // namespace panup
