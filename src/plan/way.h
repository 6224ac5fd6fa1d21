#pragma once
/// The way along the route: what is up on every piece, so that nothing else is better by the
/// ladder.
///
/// **What is looked for.** A way says of every piece what is up on it, or that nothing is permitted
/// there (`blocked`). On pieces with pantographs down it says what was up before, so that what
/// goes up behind them counts as a change only where it is another. The cost of a way is
///
///     start + Σ piece_cost(i, sᵢ) + Σ passage_cost(i, sᵢ, sᵢ₊₁) + end,
///
/// where start and end are the time lost from and to a stand. A way is possible if every sᵢ is
/// permitted on its piece, or blocked, and every passage is allowed. The best way is the possible
/// one of least cost, compared rung by rung. There is always one: blocked all along is possible.
///
/// **What the full search would do.** It tries every set of pantographs on every piece. `find_way`
/// is to find a way of the same cost with less work. A test holds the two against each other.
///
/// **Lemma 1: the rest may be settled first.** Costs are whole numbers on each rung and add rung by
/// rung, so a < b means a + c < b + c, whatever c is. What follows after (i, s) does not hang on
/// how the train came there, so the best way through (i, s) goes on with the best rest from there.
/// Hence one pass backwards over the pieces, which keeps for each (i, s) the least cost to the end
/// and the configuration that comes next. Memory is one number a configuration and piece.
///
/// **Lemma 2: few passages are allowed.** By `passage_cost`, between pieces that are joined, and at
/// a stop where the rules let nothing be changed, a permitted configuration may only stay as it is,
/// or lead into a blocked stretch. So no other successor is tried there. Where pieces are apart
/// only by the wire over the rear of the train, a blocked stretch goes on.
///
/// **Lemma 3: one successor a speed and power is enough, at a stand and where all were down.**
/// There the cost of a passage from s to t is the time lost between their speeds with the power of
/// t, and one standing change if both are permitted and differ. Whether t may stand up at a stop
/// hangs on t alone. Let t and u have the same speed and power, neither of them s, and let the rest
/// from t cost less than the rest from u. The passages differ by one standing change at most, where
/// u is blocked and t is not. That is one on the lowest rung, and the costs of the rests, whole
/// numbers, differ by one there or by more on a higher one. So u is no better than t, and it is
/// enough to try the cheapest of each speed and power, and s itself. From a blocked stretch nothing
/// counts as a change, and the same holds for every passage.
///
/// **Lemma 4: on the move the search may stop early.** There the cost of a passage hangs on both
/// configurations, so all successors count. None of its rungs is below zero. Tried by rising cost
/// of their rests, no successor can be better once a rest alone costs as much as the best so far.
///
/// **Lemma 5: sets that need not be tried.** `candidates` leaves out sets with more of a vehicle up
/// than two, what its current needs and what is ordered up. Take one of those away from such a set,
/// not the first nor the last of the vehicle: two of them still make two contact points, the
/// current is still carried, distances only grow, fewer records are asked for, and the ladder's
/// last but one rung has one less; where the speed is from the mechanics, it is taken for granted
/// that fewer are not slower. So wherever the larger set is permitted the smaller one is too,
/// at no greater cost, and the same holds for every passage. Sets with more up than any record or
/// consent of the section names are forbidden by it.
///
/// **What is judged once.** `PlanningCase::grounds` holds what the judges say of every set that is
/// not forbidden; asking them again gives the same. Sets with a defective pantograph are left out
/// here, which is all that a defect does to a verdict (an order to be up is taken back before: see
/// `find_contingencies`).

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
/// `timing_speed_kmh`. With less than full power the train accelerates by that share of a: that
/// leaves out what running resistance and gradients take, so that the true loss is greater.
std::int64_t time_lost_ms(const Train& train, double train_length_m, double from_kmh, double to_kmh,
                          double power_share = 1);

/// What passing from `from` on piece `i` to `to` on piece `i + 1` costs beyond the pieces
/// themselves; nothing if practice does not allow it there. Both must be permitted on their pieces,
/// or `blocked`.
std::optional<LadderCost> passage_cost(const PlanningCase& planning, std::size_t i,
                                       RaisedOrBlocked from, RaisedOrBlocked to);

/// The speed that running time is reckoned with: the permitted one, or what the train can reach on
/// the piece if that is less (`PlanningCase::useful_speed_kmh`).
double timing_speed_kmh(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised);

/// The share of full power that accelerates the train on the piece; 1 where nothing is up.
double power_share(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised);

/// What a configuration costs over a piece, with `defective` pantographs down; `blocked` included.
/// On a lowered piece it is the one that was up before.
LadderCost piece_cost(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised,
                      PantographSet defective);

/// The best way from each piece to the end of the route.
struct Way {
  /// For each piece: what is up (on lowered pieces: what was up before, `blocked` where the train
  /// cannot enter) on the best way from departure.
  std::vector<RaisedOrBlocked> raised;
  LadderCost cost;
  /// For each piece: the best configuration after a stand on it, and the first piece from there on
  /// (itself included) that is blocked; the number of pieces if none is.
  std::vector<RaisedOrBlocked> after_stand;
  std::vector<std::size_t> after_stand_blocked;
};

/// A configuration permitted on a piece, and what it costs there.
struct PieceCost {
  PantographSet raised;
  LadderCost cost;
};

/// The same of all that are permitted on the piece without a defective pantograph, by rising set;
/// with pantographs down: none.
std::vector<PieceCost> piece_costs(const PlanningCase& planning, std::size_t piece,
                                   PantographSet defective);

/// What the way loses on entering a piece because less than full power may be drawn on it, in
/// milliseconds.
std::int64_t time_lost_to_power_ms(const PlanningCase& planning, const Way& way, std::size_t piece);

/// Whether the train comes to a stretch with pantographs down at `piece` and cannot enter it: what
/// is up before would come under wire that does not admit it before it is down.
bool stops_before_lowered(const PlanningCase& planning, const Way& way, std::size_t piece);

/// A configuration that has to be used on a piece.
struct Forced {
  std::size_t piece = 0;
  PantographSet raised;
};

/// The best way by the ladder, with `defective` pantographs down. Its time grows with the pieces
/// times their configurations. Ties go to the same configuration as before, then to the smaller
/// set. Where a configuration is forced that may not follow on any other, the piece before it costs
/// as much as a blocked one.
Way find_way(const PlanningCase& planning, PantographSet defective,
             std::optional<Forced> forced = std::nullopt);

/// The best way if every consent that could be asked for were there. In its cost no consent counts.
Way find_way_with_consents(const PlanningCase& planning, PantographSet defective);

}  // namespace panup
