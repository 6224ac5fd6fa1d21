#pragma once

#include <filesystem>
#include <string>

namespace panup {

/// How a file is put in its place.
enum class Placing : std::uint8_t {
  as_new,    ///< fails where there is one by that name
  replacing  ///< in place of the one there is
};

/// Writes a file whole or not at all: under another name first, flushed to the disk, then under its
/// own. A link is replaced, not followed. What went wrong, or empty.
std::string write_file(const std::filesystem::path& place, const std::string& bytes,
                       Placing placing);

}  // namespace panup
