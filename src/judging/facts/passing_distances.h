#pragma once

#include <limits>
#include <span>
#include <vector>

#include "judging/facts/separation.h"

namespace panup {

/// From one distance to another, both ends left out.
struct DistanceRange {
  double from_m = 0;
  double to_m = std::numeric_limits<double>::infinity();

  bool contains(double distance_m) const { return from_m < distance_m && distance_m < to_m; }
};

/// How far apart two raised pantographs that nothing on the train joins may stand, so that they
/// pass a separation section with the breaker open; by rising distance. Distances are between the
/// middles of the collector heads, `extent_m` is what each one's strips reach over along the track.
/// Both are taken to be fit for every system of the section. Empty: no two pass. The cost grows
/// with the cube of the zones.
///
/// Whether they pass changes only at a distance at which an end of a zone is under an end of the
/// strips of both at once: between two such distances one is looked at.
std::vector<DistanceRange> passing_distances(std::span<const SeparationZone> zones,
                                             double extent_m);

}  // namespace panup
