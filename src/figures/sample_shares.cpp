#include "figures/sample_shares.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace panup {

namespace {

/// From so many samples on, nine in ten are fewer than all.
constexpr std::size_t least_for_nine_in_ten = 10;

}  // namespace

std::vector<ToldShare> told_shares(std::size_t samples, const Words& words) {
  std::vector<ToldShare> shares;
  if (samples > 0) {
    shares.push_back({0.5, words.say("half of samples pass")});
    if (samples >= least_for_nine_in_ten) {
      shares.push_back({0.9, words.say("90 % of samples pass")});
    }
    shares.push_back({1, words.say("all samples pass")});
  }
  return shares;
}

double speed_passed_by(std::vector<double> permitted_kmh, double share) {
  constexpr double rounding = 1e-9;
  std::ranges::sort(permitted_kmh, std::greater<>());
  const double count = std::ceil(share * static_cast<double>(permitted_kmh.size()) - rounding);
  return permitted_kmh[static_cast<std::size_t>(std::max(1.0, count)) - 1];
}

}  // namespace panup
