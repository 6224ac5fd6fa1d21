#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/words.h"
#include "judging/verdict.h"

namespace panup {

/// The steps of the ladder, highest first. A lower step never outweighs a higher one. Where
/// practice names one step, several rungs here may belong to it, in the order in which they decide.
enum class Rung : std::uint8_t {
  blocked,              ///< step 1: metres without a permitted configuration
  consent_first,        ///< step 1: metres for which consent is needed and not named
  put_dead,             ///< step 1: metres with a working vehicle put dead in tow, each counted
  facing_pair,          ///< step 2
  left_dangerous,       ///< which one goes dead: the one whose loss keeps the load protected;
  left_sensitive,       ///< counted are loads that what is left exposes at best
  leading_put_dead,     ///< which one goes dead, where the load does not say: not the leading one
  leading_points,       ///< step 3
  exposed_dangerous,    ///< step 4
  exposed_sensitive,    ///< step 4
  consent_last_resort,  ///< as `consent_first`, where the rule book wants it no earlier
  banking_points,       ///< step 5: of those that follow in the train, the first that bank
  following_points,     ///< step 5
  time,                 ///< step 6: milliseconds, less power included
  current,              ///< step 6: metres times amperes of reckoned full power not carried
  moving_changes,       ///< step 6: changes on the move, beyond the time they take
  pattern,              ///< step 7: departures from the prescribed pattern
  least_distance,       ///< step 7: shortfall of the least distance, millimetre metres
  distance_sum,         ///< step 7: shortfall of the sum of distances, millimetre metres
  windscreen,           ///< step 7: the tie
  raised,               ///< step 8
  standing_changes,     ///< step 8: changes where the train stands or all are down
};

inline constexpr std::size_t rung_count = 22;

/// What a configuration over a stretch, or a way along the route, costs by the ladder. Costs add up
/// along the way and compare rung by rung, the highest first; both in whole numbers, so that sums
/// do not depend on their order.
struct LadderCost {
  std::array<std::int64_t, rung_count> rungs{};

  std::int64_t& operator[](Rung rung) { return rungs[static_cast<std::size_t>(rung)]; }
  std::int64_t operator[](Rung rung) const { return rungs[static_cast<std::size_t>(rung)]; }

  LadderCost& operator+=(const LadderCost& other) {
    for (std::size_t i = 0; i < rung_count; ++i) {
      rungs[i] += other.rungs[i];
    }
    return *this;
  }
  friend LadderCost operator+(LadderCost a, const LadderCost& b) { return a += b; }
  friend auto operator<=>(const LadderCost&, const LadderCost&) = default;
};

/// What the ladder needs to know beside the verdict.
struct LadderTerms {
  double train_length_m = 0;  ///< bounds the distances, of which practice wants the greatest
  /// Whether what needs no consent goes before all that needs one: nobody gets a consent overnight.
  bool runnable_first = true;
  bool consents_granted = false;  ///< as if every consent that may be asked for were there
};

/// The cost of running `length_m` metres in the judged configuration, time included at its own
/// steady speed. Not for a forbidden configuration. Rungs `left_…` are left out: they look at what
/// else could be up (`PutDeadChoice`).
LadderCost cost_of(const Verdict& verdict, double length_m, const LadderTerms& terms);

/// The cost of `length_m` metres without a permitted configuration.
LadderCost cost_of_blocked(double length_m);

/// A cost with no consent counted in it.
LadderCost without_consents(LadderCost cost);

/// The rung at which two costs part; the last one if they are equal.
Rung where_they_part(const LadderCost& a, const LadderCost& b);

/// Words for what a rung looks at, to say at which step a configuration loses: "a facing pair",
/// "running time", …
std::string words_for(Rung rung, const Words& words = {});

}  // namespace panup
