#pragma once

#include <span>

#include "serve/page.h"

namespace panup {

/// All files that are built in, by path; empty where the page was not built.
std::span<const PageFile> page_files();

/// The description of the interface, and the schemas it refers to, by path.
std::span<const PageFile> api_documents();

}  // namespace panup
