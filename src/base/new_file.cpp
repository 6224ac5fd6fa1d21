#include "base/new_file.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace panup {

std::string write_new_file(const std::filesystem::path& path, const std::string& bytes) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0644);
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

}  // namespace panup
