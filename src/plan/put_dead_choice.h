#pragma once

#include <cstdint>
#include <map>
#include <span>

#include "plan/ladder.h"
#include "plan/planning_case.h"

namespace panup {

/// Where a vehicle has to go dead in tow, practice chooses the one whose loss keeps the load
/// protected. So each choice of vehicles that go dead is measured by what the best configuration of
/// the others leaves exposed, whatever the configuration itself does.
class PutDeadChoice {
 public:
  /// `sets`: all that are permitted on the ground; those with a defective pantograph do not count.
  PutDeadChoice(const RunningTrain& train, std::span<const JudgedSet> sets,
                PantographSet defective);

  /// The cost of the choice that `judged` makes, over `length_m` metres; none where nothing goes
  /// dead.
  LadderCost cost_of(const JudgedSet& judged, double length_m) const;

 private:
  struct Exposed {
    std::uint16_t dangerous = 0;
    std::uint16_t sensitive = 0;
    friend auto operator<=>(const Exposed&, const Exposed&) = default;
  };
  const RunningTrain* train_;
  std::map<PantographSet, Exposed> best_;  ///< by all pantographs of the working vehicles
};

}  // namespace panup
