# Turns a folder of files, and one document, into a C++ source that has their bytes:
#   cmake -DFOLDER=folder -DDOCUMENT=file -DOUTPUT=file.cpp -P embed_page.cmake
# The bytes are taken in by the assembler, so that any file will do, however large.
cmake_minimum_required(VERSION 3.25)
set(types
    .html "text/html\; charset=utf-8" .js "text/javascript\; charset=utf-8"
    .css "text/css\; charset=utf-8" .svg "image/svg+xml" .png "image/png" .ico "image/x-icon"
    .woff2 "font/woff2" .json "application/json\; charset=utf-8" .webmanifest
    "application/manifest+json" .txt "text/plain\; charset=utf-8")

set(data "")
set(rows "")
set(number 0)

function(embed file symbol)
  string(APPEND data "asm(R\"(
  .section .rodata
  .balign 16
panup_embedded_${symbol}:
  .incbin \"${file}\"
panup_embedded_${symbol}_end:
  .byte 0
  .global panup_embedded_${symbol}, panup_embedded_${symbol}_end
  .previous
)\");
extern const char panup_embedded_${symbol}[];
extern const char panup_embedded_${symbol}_end[];
")
  set(data "${data}" PARENT_SCOPE)
endfunction()

file(GLOB_RECURSE files RELATIVE "${FOLDER}" "${FOLDER}/*")
list(SORT files)
if(NOT "index.html" IN_LIST files)
  set(files "")
endif()
foreach(file IN LISTS files)
  get_filename_component(extension "${file}" LAST_EXT)
  list(FIND types "${extension}" at)
  if(at EQUAL -1)
    set(type "application/octet-stream")
  else()
    math(EXPR at "${at} + 1")
    list(GET types ${at} type)
  endif()
  file(SHA256 "${FOLDER}/${file}" digest)
  string(SUBSTRING "${digest}" 0 32 digest)
  set(path "/${file}")
  if(file STREQUAL "index.html")
    set(path "/")
  endif()
  embed("${FOLDER}/${file}" ${number})
  string(APPEND rows "      {\"${path}\", \"${type}\", between(panup_embedded_${number}, "
                     "panup_embedded_${number}_end), \"\\\"${digest}\\\"\"},\n")
  math(EXPR number "${number} + 1")
endforeach()
embed("${DOCUMENT}" document)

file(WRITE "${OUTPUT}.new" "#include \"serve/page_files.h\"

#include <array>
#include <cstddef>

extern \"C\" {
${data}}

namespace panup {

namespace {

std::string_view between(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}

}  // namespace

std::span<const PageFile> page_files() {
  static const std::array<PageFile, ${number}> files{{
${rows}  }};
  return files;
}

std::string_view api_document() {
  return between(panup_embedded_document, panup_embedded_document_end);
}

}  // namespace panup
")
file(RENAME "${OUTPUT}.new" "${OUTPUT}")
