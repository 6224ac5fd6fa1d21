#pragma once

#include <filesystem>
#include <string>

namespace panup {

/// Writes a file that is not there yet, and flushes it to the disk. What went wrong, or empty; a
/// file that is there, or a link, is left as it is and is an error.
std::string write_new_file(const std::filesystem::path& path, const std::string& bytes);

/// The temporary name, beside it, under which a file is written before it takes its own: it names
/// this host and this process.
std::filesystem::path part_beside(const std::filesystem::path& file);

/// Removes files of such names that processes of this host left in a folder and that have ended
/// since: they were killed. Those of other hosts, which may share the folder, are left.
void remove_stale_parts(const std::filesystem::path& folder);

}  // namespace panup
