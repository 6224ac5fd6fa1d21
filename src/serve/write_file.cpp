#include "serve/write_file.h"

#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "base/new_file.h"

namespace panup {

namespace {

/// A second name for what is written fails where the name is taken. Not every file system has
/// second names; then nothing but a look says that it is free.
std::string give_new_name(const std::filesystem::path& part, const std::filesystem::path& place) {
  if (::link(part.c_str(), place.c_str()) == 0) {
    return {};
  }
  const int why = errno;
  if (why != EPERM && why != EOPNOTSUPP && why != ENOSYS) {
    return std::strerror(why);
  }
  std::error_code error;
  if (std::filesystem::exists(std::filesystem::symlink_status(place, error))) {
    return std::strerror(EEXIST);
  }
  return ::rename(part.c_str(), place.c_str()) == 0 ? std::string() : std::strerror(errno);
}

}  // namespace

std::string write_file(const std::filesystem::path& place, const std::string& bytes,
                       Placing placing) {
  const std::filesystem::path part = part_beside(place);
  remove_stale_parts(place.parent_path());
  ::unlink(part.c_str());  // of a server of the same number that was killed
  std::string wrong = write_new_file(part, bytes);
  if (wrong.empty() && placing == Placing::replacing &&
      ::rename(part.c_str(), place.c_str()) != 0) {
    wrong = std::strerror(errno);
  }
  if (wrong.empty() && placing == Placing::as_new) {
    wrong = give_new_name(part, place);
  }
  if (!wrong.empty() || placing == Placing::as_new) {
    ::unlink(part.c_str());
  }
  return wrong;
}

}  // namespace panup
