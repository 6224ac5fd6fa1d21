#include "plan/put_dead_choice.h"

#include <algorithm>
#include <cmath>

namespace panup {

PutDeadChoice::PutDeadChoice(const RunningTrain& train, std::span<const JudgedSet> sets,
                             PantographSet defective)
    : train_(&train) {
  const bool any_exposed = std::ranges::any_of(sets, [](const JudgedSet& judged) {
    return judged.verdict.exposed_dangerous > 0 || judged.verdict.exposed_sensitive > 0;
  });
  if (!any_exposed) {
    return;
  }
  for (const JudgedSet& judged : sets) {
    if (judged.verdict.put_dead == 0 || judged.raised.intersects(defective)) {
      continue;
    }
    const Exposed exposed{judged.verdict.exposed_dangerous, judged.verdict.exposed_sensitive};
    const auto [known, is_new] = best_.try_emplace(working_in(*train_, judged.raised), exposed);
    if (!is_new) {
      known->second = std::min(known->second, exposed);
    }
  }
}

LadderCost PutDeadChoice::cost_of(const JudgedSet& judged, double length_m) const {
  LadderCost cost;
  if (judged.verdict.put_dead == 0 || best_.empty()) {
    return cost;
  }
  const auto best = best_.find(working_in(*train_, judged.raised));
  if (best != best_.end()) {
    const std::int64_t metres = std::max<std::int64_t>(1, std::llround(length_m));
    cost[Rung::left_dangerous] = metres * best->second.dangerous;
    cost[Rung::left_sensitive] = metres * best->second.sensitive;
  }
  return cost;
}

}  // namespace panup
