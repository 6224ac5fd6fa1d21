#pragma once

#include <string>
#include <vector>

#include "base/words.h"

namespace panup {

/// A share of samples that is told of: the speed that so many of them pass.
struct ToldShare {
  double share = 0;
  std::string name;  ///< "half of samples pass"
};

/// Half, nine in ten and all; the second only where it differs from all by their number. Empty
/// without samples.
std::vector<ToldShare> told_shares(std::size_t samples, const Words& words);

/// The greatest speed that such a share of the samples is permitted.
double speed_passed_by(std::vector<double> permitted_kmh, double share);

}  // namespace panup
