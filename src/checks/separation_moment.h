#pragma once

#include <cstddef>
#include <optional>

#include "checks/separation.h"
#include "rules/rule_book.h"
#include "rules/running_train.h"

namespace panup {

/// A separation section of stated zones being passed in a configuration, at the moment that decides
/// whether it may be: a plain value, for what is drawn of it.
struct SeparationMoment {
  std::size_t separation = 0;  ///< index into `Route::separations`
  RaisedCollectors raised;
  std::optional<DecidingMoment> moment;  ///< none: no length of contact strips does harm
  SweptStage stage;                      ///< what is touched and joined at that moment
};

/// The moment for a separation section that states its zones.
SeparationMoment separation_moment(const RuleBook& rules, const Route& route,
                                   std::size_t separation, const RunningTrain& train,
                                   PantographSet raised);

}  // namespace panup
