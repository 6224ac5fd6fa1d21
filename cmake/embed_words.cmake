# Turns tables of words into a C++ source that returns them:
#   cmake -DFILES=file;file -DOUTPUT=file.cpp -P embed_words.cmake
# A table of words is named after its language: de.toml.
include(${CMAKE_CURRENT_LIST_DIR}/embed_pieces.cmake)
set(tables "")
foreach(path IN LISTS FILES)
  embed_pieces("${path}" pieces)
  get_filename_component(language "${path}" NAME_WE)
  string(APPEND tables "      {\"${language}\", \"words/${language}.toml\",\n${pieces}      },\n")
endforeach()
file(WRITE "${OUTPUT}" "#include <array>

#include \"base/word_table.h\"

// A table is longer than what every compiler must take; those that panup is built with do.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored \"-Woverlength-strings\"

namespace panup {

std::span<const BuiltInWords> built_in_word_files() {
  static constexpr auto files = std::to_array<BuiltInWords>({
${tables}  });
  return files;
}

}  // namespace panup

#pragma GCC diagnostic pop
")
