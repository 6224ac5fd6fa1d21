#include "requests/files_read_once.h"

#include "base/sha256.h"

namespace panup {

std::optional<SourceText> FilesReadOnce::load(const std::string& path, Diagnostics& diagnostics) {
  const std::scoped_lock lock(reading_);
  if (const auto known = read_.find(path); known != read_.end()) {
    return known->second.text;
  }
  auto text = files_.load(path, diagnostics);
  if (text) {
    read_.emplace(path, Read{*text, {}});
  }
  return text;
}

bool FilesReadOnce::has(const std::string& path) {
  const bool there = files_.has(path);
  if (!there) {
    const std::scoped_lock lock(reading_);
    missed_.insert(path);
  }
  return there;
}

FileSource FilesReadOnce::source() {
  return {.load = [this](const std::string& path,
                         Diagnostics& diagnostics) { return load(path, diagnostics); },
          .has = [this](const std::string& path) { return has(path); }};
}

std::string FilesReadOnce::sha256_of(const std::string& path) const {
  const std::scoped_lock lock(reading_);
  const auto known = read_.find(path);
  if (known == read_.end()) {
    return {};
  }
  if (known->second.sha256.empty()) {
    known->second.sha256 = sha256_hex(known->second.text.text);
  }
  return known->second.sha256;
}

std::string FilesReadOnce::sha256_now(const std::string& path) {
  Diagnostics unsaid;
  return load(path, unsaid) ? sha256_of(path) : std::string();
}

std::vector<std::string> FilesReadOnce::not_there() const {
  const std::scoped_lock lock(reading_);
  return {missed_.begin(), missed_.end()};
}

}  // namespace panup
