#include "judging/facts/passing_distances.h"

#include <cmath>
#include <set>

namespace panup {

namespace {

std::vector<EnergySupply> systems_of(std::span<const SeparationZone> zones) {
  std::set<EnergySupply> systems;
  for (const SeparationZone& zone : zones) {
    if (zone.supply) {
      systems.insert(*zone.supply);
    }
  }
  return {systems.begin(), systems.end()};
}

/// All distances at which something may change, and 0.
std::set<double> critical_distances(std::span<const SeparationZone> zones, double extent_m) {
  std::vector<double> ends;
  for (const SeparationZone& zone : zones) {
    for (const double end : {zone.from_m, zone.to_m}) {
      if (std::isfinite(end)) {
        ends.push_back(end);
      }
    }
  }
  std::set<double> distances{0};
  for (const double one : ends) {
    for (const double other : ends) {
      for (const double reach_m : {-extent_m, 0.0, extent_m}) {
        if (const double distance_m = one - other + reach_m; distance_m > 0) {
          distances.insert(distance_m);
        }
      }
    }
  }
  return distances;
}

}  // namespace

std::vector<DistanceRange> passing_distances(std::span<const SeparationZone> zones,
                                             double extent_m) {
  constexpr double beyond_all_m = 10;
  const std::vector<EnergySupply> systems = systems_of(zones);
  const auto pass = [&](double distance_m) {
    const Collector foremost{
        .ref = {}, .behind_front_m = 0, .strip_extent_m = extent_m, .fit_for = systems};
    Collector rearmost = foremost;
    rearmost.behind_front_m = distance_m;
    return passes(zones, {.collectors = {foremost, rearmost}, .joins = {}}, BreakerAt::open);
  };
  const std::set<double> distances = critical_distances(zones, extent_m);
  std::vector<DistanceRange> ranges;
  for (auto at = distances.begin(); at != distances.end(); ++at) {
    const auto next = std::next(at);
    const bool last = next == distances.end();
    if (!pass(last ? *at + beyond_all_m : (*at + *next) / 2)) {
      continue;
    }
    const DistanceRange range{*at, last ? std::numeric_limits<double>::infinity() : *next};
    if (!ranges.empty() && ranges.back().to_m == range.from_m && pass(range.from_m)) {
      ranges.back().to_m = range.to_m;
    } else {
      ranges.push_back(range);
    }
  }
  return ranges;
}

}  // namespace panup
