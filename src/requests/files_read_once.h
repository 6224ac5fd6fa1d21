#pragma once

#include <map>
#include <string>

#include "base/file_source.h"

namespace panup {

/// Files as a request reads them: each once, so that whoever asks for one again gets the same bytes
/// even where the file has changed in between, and what is said of a file is said of what was read.
class FilesReadOnce {
 public:
  explicit FilesReadOnce(const FileSource& files) : files_(files) {}

  /// Reads through this object, which must outlive it. Not for several threads at once.
  FileSource source();

  /// The SHA-256 of the bytes that were read; empty for a file that was not.
  std::string sha256_of(const std::string& path) const;

 private:
  const FileSource& files_;
  std::map<std::string, SourceText> read_;
};

}  // namespace panup
