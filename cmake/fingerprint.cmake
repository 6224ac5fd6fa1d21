# Writes a header with the program's version and SHA-256 over the contents of sources and over how
# they are built:
#   cmake -DVERSION=version -DBUILD=text "-DSOURCES=file;file" -DNAME=built_fingerprint -DOUTPUT=header -P fingerprint.cmake
list(SORT SOURCES)
set(digests "${BUILD}\n")
foreach(source IN LISTS SOURCES)
  file(SHA256 "${source}" digest)
  get_filename_component(name "${source}" NAME)
  string(APPEND digests "${name} ${digest}\n")
endforeach()
string(SHA256 all "${digests}")
file(WRITE "${OUTPUT}" "#pragma once

namespace panup {

inline constexpr const char* ${NAME} = \"${VERSION} ${all}\";

}  // namespace panup
")
