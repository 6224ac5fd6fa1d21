#pragma once

#include <random>
#include <string>
#include <vector>

namespace panup {

/// Makes a text that resembles one of the seeds: bytes and lines changed, numbers and words
/// replaced by awkward ones, lines taken from other seeds.
std::string mutated(const std::vector<std::string>& seeds, std::mt19937& random);

}  // namespace panup
