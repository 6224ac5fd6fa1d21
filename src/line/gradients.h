#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/words.h"
#include "line/route.h"

namespace panup {

/// A stretch that no gradient is stated for.
struct WithoutGradient {
  double from_km = 0;
  double to_km = 0;
};

/// Of the way between two chainages, what no gradient covers, in order. `gradients` are in order.
std::vector<WithoutGradient> without_gradient(std::span<const Gradient> gradients, double from_km,
                                              double to_km);

/// "km 10.100 to 10.250 and km 10.400 to 10.500".
std::string words_for(const std::vector<WithoutGradient>& stretches, const Words& words = {});

/// The gradients, with one of `permille` wherever none is stated between the two chainages.
std::vector<Gradient> filled_up(std::span<const Gradient> gradients, double from_km, double to_km,
                                double permille);

}  // namespace panup
