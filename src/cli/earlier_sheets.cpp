#include "cli/earlier_sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <system_error>

namespace panup {

void remove_earlier_sheets(const std::string& folder, const std::string& stem,
                           const std::vector<OutputFile>& written) {
  namespace fs = std::filesystem;
  for (const char* const ending : {"svg", "png"}) {
    for (int sheet = 1;; ++sheet) {
      const std::string name = fmt::format("{}-{}.{}", stem, sheet, ending);
      if (std::ranges::find(written, name, &OutputFile::name) != written.end()) {
        continue;
      }
      std::error_code error;
      if (!fs::remove(fs::path(folder) / name, error)) {
        break;
      }
      fmt::print(stderr, "removed, of an earlier result: {}/{}\n", folder, name);
    }
  }
}

}  // namespace panup
