#include "judging/separation_moment.h"

#include <algorithm>

#include "judging/facts/train_collectors.h"
#include "judging/judge.h"
#include "judging/separation_rule.h"

namespace panup {

namespace {

/// Stages are in order: the first that does not end before a place holds there.
bool ends_before(const SweptStage& stage, double front_m) {
  return stage.includes_to ? stage.to_m < front_m : stage.to_m <= front_m;
}

}  // namespace

SeparationMoment separation_moment(const RuleBook& rules, const Route& route,
                                   std::size_t separation, const RunningTrain& train,
                                   PantographSet raised) {
  const auto& zones = route.separations[separation].zones;
  SeparationMoment result{.separation = separation,
                          .raised = raised_collectors(train, raised, strips_not_stated_m(rules)),
                          .moment = std::nullopt,
                          .stage = {},
                          .swept = {},
                          .known_forbidden = {}};
  result.moment = deciding_moment(zones, result.raised);
  result.swept = sweep(zones, result.raised, BreakerAt::open);
  if (result.moment) {
    const auto at = std::ranges::find_if(result.swept.stages, [&](const SweptStage& stage) {
      return !ends_before(stage, result.moment->front_m);
    });
    if (at != result.swept.stages.end()) {
      result.stage = *at;
    }
  }
  const RaisedCollectors known = known_of(result.raised);
  result.known_forbidden = known.joins.size() == result.raised.joins.size()
                               ? result.swept.forbidden
                               : sweep(zones, known, BreakerAt::open).forbidden;
  return result;
}

}  // namespace panup
