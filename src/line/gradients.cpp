#include "line/gradients.h"

#include <algorithm>

#include "base/same_place.h"

namespace panup {

std::vector<WithoutGradient> without_gradient(std::span<const Gradient> gradients, double from_km,
                                              double to_km) {
  std::vector<WithoutGradient> stretches;
  double covered_to = from_km;
  const auto add_up_to = [&](double km) {
    if (km > covered_to + same_place_km) {
      stretches.push_back({.from_km = covered_to, .to_km = km});
    }
  };
  for (const Gradient& gradient : gradients) {
    if (gradient.to_km <= from_km || gradient.from_km >= to_km) {
      continue;
    }
    add_up_to(gradient.from_km);
    covered_to = std::max(covered_to, gradient.to_km);
  }
  add_up_to(to_km);
  return stretches;
}

std::string words_for(const std::vector<WithoutGradient>& stretches, const Words& words) {
  std::vector<std::string> said;
  for (const WithoutGradient& stretch : stretches) {
    said.push_back(words.say("km {:.3f} to {:.3f}", stretch.from_km, stretch.to_km));
  }
  return words.listed(said);
}

std::vector<Gradient> filled_up(std::span<const Gradient> gradients, double from_km, double to_km,
                                double permille) {
  std::vector<Gradient> all(gradients.begin(), gradients.end());
  for (const WithoutGradient& stretch : without_gradient(gradients, from_km, to_km)) {
    all.push_back(
        {.from_km = stretch.from_km, .to_km = stretch.to_km, .permille = permille, .place = {}});
  }
  std::ranges::stable_sort(all, {}, &Gradient::from_km);
  return all;
}

}  // namespace panup
