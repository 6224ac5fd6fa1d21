#pragma once

#include <optional>
#include <string_view>

namespace panup {

/// A file of the page, built into the program.
struct PageFile {
  std::string_view path;  ///< "/" for the page itself, "/assets/…"
  std::string_view type;
  std::string_view bytes;
  std::string_view etag;  ///< a digest of the bytes, in quotes
};

/// Nothing where there is no such file.
std::optional<PageFile> page_file(std::string_view path);

}  // namespace panup
