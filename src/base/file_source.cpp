#include "base/file_source.h"

#include <filesystem>

namespace panup {

FileSource files_on_disk() {
  return {.load = load_text, .has = [](const std::string& path) {
            std::error_code error;
            return std::filesystem::is_regular_file(path, error);
          }};
}

}  // namespace panup
