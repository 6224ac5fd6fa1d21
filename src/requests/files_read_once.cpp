#include "requests/files_read_once.h"

#include "base/sha256.h"

namespace panup {

FileSource FilesReadOnce::source() {
  return {.load = [this](const std::string& path,
                         Diagnostics& diagnostics) -> std::optional<SourceText> {
            if (const auto known = read_.find(path); known != read_.end()) {
              return known->second;
            }
            auto text = files_.load(path, diagnostics);
            if (text) {
              read_.emplace(path, *text);
            }
            return text;
          },
          .has = [this](const std::string& path) { return files_.has(path); }};
}

std::string FilesReadOnce::sha256_of(const std::string& path) const {
  const auto known = read_.find(path);
  return known == read_.end() ? std::string() : sha256_hex(known->second.text);
}

}  // namespace panup
