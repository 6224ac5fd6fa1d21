#pragma once

#include <string>
#include <vector>

#include "cli/output_files.h"

namespace panup {

/// Removes `STEM-N.svg` and `STEM-N.png` that are not among the files just written: earlier results
/// may have had more sheets, and one left beside the new ones would be taken for theirs. Says on
/// standard error what it removes.
void remove_earlier_sheets(const std::string& folder, const std::string& stem,
                           const std::vector<OutputFile>& written);

}  // namespace panup
