#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "quality/permitted_speed.h"

namespace panup {

/// Permitted speed over the distance of one raised pantograph to the one before it, while whoever
/// asks draws them apart. Those behind it keep their distance to it.
struct SpeedCurveRequest {
  SpeedQuestion question;    ///< rising places; the greatest speed of interest in `to_kmh`
  std::size_t drawn_at = 1;  ///< the pantograph that is drawn, counted from 0; not the first
  /// The one that stands now first, then others that are of interest, the nearest first.
  std::vector<double> distances_m;
  const RuleBook* rules = nullptr;
};

struct SpeedCurvePoint {
  double distance_m = 0;
  PermittedSpeed permitted;
  /// By runs in a longer step however near to a limit: only about right, and not to be handed out.
  bool at_first_sight = false;
};

/// Is told of each point as soon as it is known, on the thread of the caller.
using SpeedCurvePointKnown = std::function<void(const SpeedCurvePoint& point)>;

/// Every distance at first sight, in their order; then the first of them as `permitted_speeds` has
/// it. False where the runs were stopped. The rule book has a rule of kind `speed-by-mechanics` in
/// force.
bool draw_speed_curve(const SpeedCurveRequest& request, const RunSource& runs,
                      const SpeedCurvePointKnown& known);

}  // namespace panup
