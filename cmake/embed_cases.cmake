# Turns the files of a folder into a C++ source that returns them, each under its path from the folder above:
#   cmake -DFOLDER=folder -DFILES=file;file -DOUTPUT=file.cpp -P embed_cases.cmake
include(${CMAKE_CURRENT_LIST_DIR}/embed_pieces.cmake)
get_filename_component(above "${FOLDER}" DIRECTORY)
set(texts "")
foreach(path IN LISTS FILES)
  embed_pieces("${path}" pieces)
  file(RELATIVE_PATH name "${above}" "${path}")
  string(APPEND texts "      BuiltInCaseFile{\"${name}\",\n${pieces}      },\n")
endforeach()
file(WRITE "${OUTPUT}" "#include <array>

#include \"files/built_in_cases.h\"

// A text is longer than what every compiler must take; those that panup is built with do.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored \"-Woverlength-strings\"

namespace panup {

std::span<const BuiltInCaseFile> built_in_case_files() {
  static constexpr auto files = std::to_array<BuiltInCaseFile>({
${texts}  });
  return files;
}

}  // namespace panup

#pragma GCC diagnostic pop
")
