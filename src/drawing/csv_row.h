#pragma once

#include <string>
#include <vector>

namespace panup {

/// A row of comma-separated values (RFC 4180) with its line feed. A cell that a spreadsheet would
/// take for a formula gets a space before it; a number stays as it is.
std::string csv_row(const std::vector<std::string>& cells);

}  // namespace panup
