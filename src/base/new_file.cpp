#include "base/new_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstring>
#include <optional>
#include <string_view>
#include <vector>

#include "base/sha256.h"

namespace panup {

namespace {

constexpr std::string_view part_ending = ".part";

/// Tells hosts apart, in few characters that any file system takes.
std::string host_mark() {
  std::array<char, 256> name{};
  static_cast<void>(::gethostname(name.data(), name.size() - 1));
  return sha256_hex(name.data()).substr(0, 8);
}

/// Of ".NAME.HOST.PROCESS.part" on this host; nothing of any other name.
std::optional<pid_t> writer_of(std::string_view name) {
  if (!name.starts_with('.') || !name.ends_with(part_ending)) {
    return std::nullopt;
  }
  name.remove_suffix(part_ending.size());
  const std::size_t dot = name.rfind('.');
  const std::string_view number = name.substr(dot + 1);
  pid_t process = 0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), process);
  const bool whole = error == std::errc{} && end == number.data() + number.size() && process > 0;
  return whole && name.substr(0, dot).ends_with("." + host_mark()) ? std::optional(process)
                                                                   : std::nullopt;
}

}  // namespace

std::filesystem::path part_beside(const std::filesystem::path& file) {
  return file.parent_path() /
         fmt::format(".{}.{}.{}{}", file.filename().string(), host_mark(), ::getpid(), part_ending);
}

void remove_stale_parts(const std::filesystem::path& folder) {
  std::error_code error;
  std::vector<std::filesystem::path> stale;
  std::filesystem::directory_iterator entry(folder, error);
  for (; !error && entry != std::filesystem::directory_iterator(); entry.increment(error)) {
    const auto writer = writer_of(entry->path().filename().string());
    if (writer && ::kill(*writer, 0) != 0 && errno == ESRCH) {
      stale.push_back(entry->path());
    }
  }
  for (const std::filesystem::path& path : stale) {
    std::filesystem::remove(path, error);
  }
}

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
