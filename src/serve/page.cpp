#include "serve/page.h"

#include <algorithm>

#include "serve/page_files.h"

namespace panup {

namespace {

/// Instead of the page where there is none.
constexpr PageFile no_page{
    .path = "/",
    .type = "text/html; charset=utf-8",
    .bytes =
        "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>panup</title>\n"
        "<p>This program was built without its page. The interface under /api works; what it "
        "offers is described in <a href=\"/api/openapi.json\">/api/openapi.json</a>.</p>\n"
        "</html>\n",
    .etag = "\"no-page\""};

}  // namespace

std::optional<PageFile> page_file(std::string_view path) {
  const auto files = page_files();
  const auto file = std::ranges::find(files, path, &PageFile::path);
  if (file != files.end()) {
    return *file;
  }
  return path == "/" && files.empty() ? std::optional(no_page) : std::nullopt;
}

}  // namespace panup
