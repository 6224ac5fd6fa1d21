#pragma once

#include <span>

#include "serve/page.h"

namespace panup {

/// All files that are built in, by path; empty where the page was not built.
std::span<const PageFile> page_files();

/// The description of the interface.
std::string_view api_document();

}  // namespace panup
