#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "plan/planning_case.h"

namespace panup {

/// What is up on a piece of route; nothing where no configuration is permitted: it is `blocked`.
/// Where all pantographs are down it is the empty set.
using RaisedOrBlocked = std::optional<PantographSet>;
inline constexpr std::nullopt_t blocked = std::nullopt;

/// Time lost by a change of speed against running at each speed up to the border, in milliseconds.
/// Braking from v to w happens before the border: (v − w)²/(2 b v). Accelerating happens behind it,
/// once the train's whole length has passed: (w − v)²/(2 a w) and the length at v in place of w.
/// Closed forms for constant acceleration a and braking b, right where the speed is reached: see
/// `timing_speed_kmh`.
std::int64_t time_lost_ms(const Train& train, double train_length_m, double from_kmh,
                          double to_kmh);

/// What passing from `from` on piece `i` to `to` on piece `i + 1` costs beyond the pieces
/// themselves; nothing if practice does not allow it there. Both must be permitted on their pieces,
/// or `blocked`. This is the definition; the search below uses shortcuts that agree with it.
std::optional<LadderCost> passage_cost(const PlanningCase& planning, std::size_t i,
                                       RaisedOrBlocked from, RaisedOrBlocked to);

/// The speed that running time is reckoned with: the permitted one, or what the train can reach on
/// the piece if that is less (`PlanningCase::useful_speed_kmh`).
double timing_speed_kmh(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised);

/// What a configuration costs over a piece; `blocked` included. On a lowered piece it is the
/// one that was up before.
LadderCost piece_cost(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised);

/// The best way from each piece to the end of the route.
struct Way {
  /// For each piece: what is up (on lowered pieces: what was up before) on the best way from
  /// departure.
  std::vector<RaisedOrBlocked> raised;
  LadderCost cost;
  /// For each piece: the best configuration after a stand on it, and the first piece from there on
  /// (itself included) that is blocked; the number of pieces if none is.
  std::vector<RaisedOrBlocked> after_stand;
  std::vector<std::size_t> after_stand_blocked;
};

/// A configuration that has to be used on a piece.
struct Forced {
  std::size_t piece = 0;
  PantographSet raised;
};

/// The best way by the ladder, with `defective` pantographs down. A shortest path over (piece,
/// configuration), found backwards from the end of the route; cost grows with pieces times
/// configurations. Ties go to the same configuration as before, then to the smaller set.
Way find_way(const PlanningCase& planning, PantographSet defective,
             std::optional<Forced> forced = std::nullopt);

}  // namespace panup
