#pragma once

#include <map>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "base/file_source.h"

namespace panup {

/// Files as a request reads them: each once, so that whoever asks for one again gets the same bytes
/// even where the file has changed in between, and what is said of a file is said of what was read.
/// Safe from any thread.
class FilesReadOnce {
 public:
  /// `files` must outlive it.
  explicit FilesReadOnce(const FileSource& files) : files_(files) {}

  /// Reads through this object, which must outlive it.
  FileSource source();

  /// The SHA-256 of the bytes that were read; empty for a file that was not.
  std::string sha256_of(const std::string& path) const;
  /// The same, of a file that is read for it where it was not yet; empty where it cannot be read.
  std::string sha256_now(const std::string& path);

  /// Files that were asked after, and are not there; each once.
  std::vector<std::string> not_there() const;

 private:
  struct Read {
    SourceText text;
    std::string sha256;  ///< empty: not taken yet
  };
  std::optional<SourceText> load(const std::string& path, Diagnostics& diagnostics);
  bool has(const std::string& path);

  const FileSource& files_;
  mutable std::mutex reading_;
  mutable std::map<std::string, Read> read_;
  std::set<std::string> missed_;
};

}  // namespace panup
