#pragma once

#include <string_view>

namespace panup {

/// The commit that the program was built from, as in "commit 3b67e1b0c2d4", with ", modified"
/// behind it where files were changed since; empty where it was built from a folder without git.
/// In a source file of its own, which a script writes: a new commit compiles that one again.
std::string_view built_from();

}  // namespace panup
