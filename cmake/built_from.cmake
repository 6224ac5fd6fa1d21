# Writes the source file that says which commit the program is built from:
#   cmake -DFOLDER=root of the sources -DOUTPUT=file -P built_from.cmake
# It leaves the file alone where it says so already. Without git, or where the sources lie in a folder of
# somebody else's repository, it says nothing of a commit.
find_program(GIT git)
set(said "")
if(GIT AND EXISTS "${FOLDER}/.git")
  execute_process(COMMAND "${GIT}" -C "${FOLDER}" rev-parse --short=12 HEAD
    OUTPUT_VARIABLE commit OUTPUT_STRIP_TRAILING_WHITESPACE RESULT_VARIABLE failed ERROR_QUIET)
  if(NOT failed)
    set(said "commit ${commit}")
    execute_process(
      COMMAND "${GIT}" -C "${FOLDER}" --no-optional-locks status --porcelain --untracked-files=no
      OUTPUT_VARIABLE changes ERROR_QUIET)
    if(changes)
      string(APPEND said ", modified")
    endif()
  endif()
endif()

set(text "#include \"cli/built_from.h\"

namespace panup {

std::string_view built_from() { return \"${said}\"; }

}  // namespace panup
")
set(before "")
if(EXISTS "${OUTPUT}")
  file(READ "${OUTPUT}" before)
endif()
if(NOT before STREQUAL text)
  file(WRITE "${OUTPUT}" "${text}")
endif()
