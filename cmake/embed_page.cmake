# Turns the page's files, and the description of the interface with its schemas, into a C++ source
# that has their bytes:
#   cmake -DFOLDER=folder -DDOCUMENT=file -DSCHEMAS=folder -DOUTPUT=file.cpp -P embed_page.cmake
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

# Adds the file to `data`, and what is said of it to `rows`.
function(embed file path)
  get_filename_component(extension "${file}" LAST_EXT)
  list(FIND types "${extension}" at)
  if(at EQUAL -1)
    set(type "application/octet-stream")
  else()
    math(EXPR at "${at} + 1")
    list(GET types ${at} type)
  endif()
  file(SHA256 "${file}" digest)
  string(SUBSTRING "${digest}" 0 32 digest)
  set(symbol panup_embedded_${number})
  string(APPEND data "asm(R\"(
  .section .rodata
  .balign 16
${symbol}:
  .incbin \"${file}\"
${symbol}_end:
  .byte 0
  .global ${symbol}, ${symbol}_end
  .previous
)\");
extern const char ${symbol}[];
extern const char ${symbol}_end[];
")
  string(APPEND rows "      PageFile{\"${path}\", \"${type}\", between(${symbol}, ${symbol}_end), "
                     "\"\\\"${digest}\\\"\"},\n")
  math(EXPR number "${number} + 1")
  foreach(variable data rows number)
    set(${variable} "${${variable}}" PARENT_SCOPE)
  endforeach()
endfunction()

file(GLOB_RECURSE files RELATIVE "${FOLDER}" "${FOLDER}/*")
list(SORT files)
if("index.html" IN_LIST files)
  foreach(file IN LISTS files)
    if(file STREQUAL "index.html")
      embed("${FOLDER}/${file}" "/")
    else()
      embed("${FOLDER}/${file}" "/${file}")
    endif()
  endforeach()
endif()
set(page_rows "${rows}")
set(page_number ${number})

set(rows "")
embed("${DOCUMENT}" "/api/openapi.json")
file(GLOB schemas "${SCHEMAS}/*.json")
list(SORT schemas)
foreach(schema IN LISTS schemas)
  get_filename_component(name "${schema}" NAME)
  embed("${schema}" "/api/schema/${name}")
endforeach()
math(EXPR document_number "${number} - ${page_number}")

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
  static const std::array<PageFile, ${page_number}> files{{
${page_rows}  }};
  return files;
}

std::span<const PageFile> api_documents() {
  static const std::array<PageFile, ${document_number}> files{{
${rows}  }};
  return files;
}

}  // namespace panup
")
file(RENAME "${OUTPUT}.new" "${OUTPUT}")
