#pragma once

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "base/same_place.h"

namespace panup {

/// A stretch over which two lists of stretches differ in one way.
template <typename Difference>
struct DifferingStretch {
  double from_km = 0;
  double to_km = 0;
  Difference differs;
};

/// In what two lists of stretches differ along a route. `difference` is asked of each piece between
/// neighbouring borders of both, with the stretch of either list that lies over it, or null where
/// none does; it says in what they differ, or nothing. Neighbouring pieces that differ in the same
/// way are one stretch. Borders that are no further apart than `same_place_km` are one.
/// Cost: the number of borders times the number of stretches.
template <typename Stretch, typename Differ>
auto differing_stretches(const std::vector<Stretch>& before, const std::vector<Stretch>& after,
                         const Differ& difference) {
  using Difference = typename decltype(difference(nullptr, nullptr))::value_type;
  std::vector<double> borders;
  for (const std::vector<Stretch>* const list : {&before, &after}) {
    for (const Stretch& stretch : *list) {
      borders.push_back(stretch.from_km);
      borders.push_back(stretch.to_km);
    }
  }
  std::ranges::sort(borders);
  const auto over = [](const std::vector<Stretch>& list, double km) -> const Stretch* {
    const auto found = std::ranges::find_if(list, [km](const Stretch& stretch) {
      return stretch.from_km <= km && km <= stretch.to_km;
    });
    return found == list.end() ? nullptr : &*found;
  };
  std::vector<DifferingStretch<Difference>> all;
  bool goes_on = false;
  for (std::size_t i = 0, next = 1; next < borders.size(); ++next) {
    if (borders[next] - borders[i] <= same_place_km) {
      continue;
    }
    const double middle = (borders[i] + borders[next]) / 2;
    const auto differs = difference(over(before, middle), over(after, middle));
    if (differs && goes_on && all.back().differs == *differs) {
      all.back().to_km = borders[next];
    } else if (differs) {
      all.push_back({borders[i], borders[next], *differs});
    }
    goes_on = differs.has_value();
    i = next;
  }
  return all;
}

}  // namespace panup
