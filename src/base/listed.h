#pragma once

#include <string>
#include <vector>

namespace panup {

/// "A", "A and B", "A, B and C", for what is said in English alone; empty for none. What is said in
/// any language: `Words::listed`.
std::string listed(const std::vector<std::string>& items);

}  // namespace panup
