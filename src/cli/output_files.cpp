#include "cli/output_files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <system_error>

namespace panup {

namespace fs = std::filesystem;

namespace {

/// Writes and flushes to the disk; what went wrong, or empty.
std::string write_whole(const fs::path& path, const std::string& bytes) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
  if (file < 0) {
    return std::strerror(errno);
  }
  std::string wrong;
  for (std::size_t at = 0; at < bytes.size() && wrong.empty();) {
    const ssize_t written = ::write(file, bytes.data() + at, bytes.size() - at);
    if (written < 0 && errno != EINTR) {
      wrong = std::strerror(errno);
    } else if (written > 0) {
      at += static_cast<std::size_t>(written);
    }
  }
  if (wrong.empty() && ::fsync(file) != 0) {
    wrong = std::strerror(errno);
  }
  if (::close(file) != 0 && wrong.empty()) {
    wrong = std::strerror(errno);
  }
  return wrong;
}

}  // namespace

std::string write_files(const std::string& folder, const std::vector<OutputFile>& files) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error || !fs::is_directory(folder)) {
    return fmt::format("{}: the folder cannot be made: {}", folder,
                       error ? error.message() : std::string("a file of that name is in the way"));
  }
  std::vector<fs::path> temporary;
  std::string wrong;
  for (const OutputFile& file : files) {
    temporary.push_back(fs::path(folder) / fmt::format(".{}.{}.part", file.name, ::getpid()));
    wrong = write_whole(temporary.back(), file.bytes);
    if (!wrong.empty()) {
      wrong =
          fmt::format("{}: cannot be written: {}", (fs::path(folder) / file.name).string(), wrong);
      break;
    }
  }
  for (std::size_t i = 0; i < temporary.size() && wrong.empty(); ++i) {
    const fs::path target = fs::path(folder) / files[i].name;
    fs::rename(temporary[i], target, error);
    if (error) {
      wrong = fmt::format("{}: cannot be written: {}", target.string(), error.message());
    }
  }
  if (!wrong.empty()) {
    for (const fs::path& path : temporary) {
      fs::remove(path, error);
    }
  }
  return wrong;
}

}  // namespace panup
