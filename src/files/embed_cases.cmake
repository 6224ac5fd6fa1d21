# Turns the files of a folder into a C++ source that returns them, each under its path from the folder above:
#   cmake -DFOLDER=folder -DFILES=file;file -DOUTPUT=file.cpp -P embed_cases.cmake
# The text is split, because compilers limit the length of one literal.
get_filename_component(above "${FOLDER}" DIRECTORY)
set(texts "")
foreach(path IN LISTS FILES)
  file(READ "${path}" text)
  file(RELATIVE_PATH name "${above}" "${path}")
  string(LENGTH "${text}" length)
  set(pieces "")
  set(at 0)
  while(at LESS length)
    string(SUBSTRING "${text}" ${at} 8000 piece)
    string(APPEND pieces "\n        R\"~~~(${piece})~~~\"")
    math(EXPR at "${at} + 8000")
  endwhile()
  string(APPEND texts "      BuiltInCaseFile{\"${name}\",${pieces}},\n")
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
