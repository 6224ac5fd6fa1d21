# Turns a text file into a C++ source that returns it:
#   cmake -DINPUT=file -DOUTPUT=file.cpp -P embed.cmake
# The text is split, because compilers limit the length of one literal.
file(READ "${INPUT}" text)
string(LENGTH "${text}" length)
set(pieces "")
set(at 0)
while(at LESS length)
  string(SUBSTRING "${text}" ${at} 8000 piece)
  string(APPEND pieces "    R\"~~~(${piece})~~~\"\n")
  math(EXPR at "${at} + 8000")
endwhile()
file(WRITE "${OUTPUT}" "#include \"files/read_rule_book.h\"

namespace panup {

std::string_view built_in_rule_text() {
  static constexpr std::string_view text =
${pieces};
  return text;
}

}  // namespace panup
")
