#pragma once

#include <string>
#include <variant>
#include <vector>

#include "driving/drive.h"

namespace panup {

/// A place that a train passes, and where vehicles at its rear drop back from it.
///
/// Two trains are planned as if each ran alone: `before` with all vehicles, from a stand before the
/// place to one behind it, and `after` without those that leave, likewise. Where at the place both
/// have the same up and the same breakers closed, on the vehicles that both have, and nothing is
/// under way on either, the orders of the first up to there and those of the second from there on
/// are the orders of one drive. The obedient driver drives it whole: the longer train as far as its
/// next stand, the shorter one from its last stand, and, on the orders as they are joined, the
/// shorter one from the first stand to the end.
///
/// Until the train has run its former length the others may still be close behind: so long nothing
/// but its speed is ordered, and it runs no faster than the longer one was ordered to.
struct LeavingPlace {
  const Plan& before;
  const Plan& after;
  double at_km = 0;
};

struct LeftOnTheMove {
  std::vector<PantographRef> up;    ///< at the place, on the vehicles that go on
  std::vector<int> closed;          ///< their breakers that are on
  double held_to_km = 0;            ///< no faster than at the place as far as this
  double held_kmh = 0;              ///< what the longer train was ordered to run
  std::vector<Instruction> before;  ///< the orders of `before` up to the place
  std::vector<Instruction> after;   ///< those of `after` from there on, with the speed there
};

/// The two as one drive; or why they are none, in a clause.
std::variant<LeftOnTheMove, std::string> left_on_the_move(const LeavingPlace& place,
                                                          const DrivenRules& rules);

}  // namespace panup
