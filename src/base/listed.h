#pragma once

#include <string>
#include <vector>

namespace panup {

/// "A", "A and B", "A, B and C"; empty for none.
std::string listed(const std::vector<std::string>& words);

}  // namespace panup
