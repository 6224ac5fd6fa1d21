#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "judging/facts/running_train.h"
#include "judging/facts/separation.h"
#include "rules/rule_book.h"

namespace panup {

/// A separation section of stated zones being passed in a configuration, from beginning to end and
/// at the moment that decides whether it may be: a plain value, for what is drawn of it. The main
/// circuit breaker is taken to be open.
struct SeparationMoment {
  std::size_t separation = 0;  ///< index into `Route::separations`
  RaisedCollectors raised;
  std::optional<DecidingMoment> moment;  ///< none: no length of contact strips does harm
  SweptStage stage;                      ///< what is touched and joined at that moment
  Sweep swept;                           ///< all that happens on the way
  /// What of it is forbidden also without the joins that are only possible.
  std::vector<ForbiddenRange> known_forbidden;
};

/// The moment for a separation section that states its zones.
SeparationMoment separation_moment(const RuleBook& rules, const Route& route,
                                   std::size_t separation, const RunningTrain& train,
                                   PantographSet raised);

}  // namespace panup
