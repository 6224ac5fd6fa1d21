#pragma once

#include <span>
#include <string_view>

#include "base/file_source.h"
#include "files/read_practice_cases.h"

namespace panup {

/// A file of the repository's `data/practice`.
struct BuiltInCaseFile {
  std::string_view path;  ///< as in "practice/trains/p01.toml"
  std::string_view text;
};

/// All of them. With them, the cases are there whatever folders a machine has.
std::span<const BuiltInCaseFile> built_in_case_files();

/// Reads these and no others.
FileSource files_of_cases();

/// The cases of working practice. They have no mistakes.
const PracticeCases& built_in_cases();

}  // namespace panup
