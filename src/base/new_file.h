#pragma once

#include <filesystem>
#include <string>

namespace panup {

/// Writes a file that is not there yet, and flushes it to the disk. What went wrong, or empty; a
/// file that is there, or a link, is left as it is and is an error.
std::string write_new_file(const std::filesystem::path& path, const std::string& bytes);

}  // namespace panup
