# Turns a text file into a C++ source that returns it:
#   cmake -DINPUT=file -DOUTPUT=file.cpp -P embed.cmake
include(${CMAKE_CURRENT_LIST_DIR}/embed_pieces.cmake)
embed_pieces("${INPUT}" pieces)
file(WRITE "${OUTPUT}" "#include \"files/read_rule_book.h\"

namespace panup {

std::string_view built_in_rule_text() {
  static constexpr std::string_view text =
${pieces};
  return text;
}

}  // namespace panup
")
