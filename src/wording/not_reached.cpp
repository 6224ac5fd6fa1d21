#include "wording/not_reached.h"

#include <algorithm>
#include <limits>
#include <ranges>

#include "wording/wording.h"

namespace panup {

namespace {

/// Chainage in km of the stop that the orders end with; infinity if the train runs to the end.
double stops_for_good_at(const Plan& plan) {
  const auto backwards = plan.instructions | std::views::reverse;
  const auto last = std::ranges::find(backwards, Action::speed, &Instruction::action);
  return last == backwards.end() || last->speed_kmh > 0 ? std::numeric_limits<double>::infinity()
                                                        : last->at_km;
}

}  // namespace

std::string does_not_run_because(const Plan& plan, const PlannedSection& section) {
  if (section.answer == Answer::none) {
    return plan.words.say("see the findings");
  }
  const double stop_km = stops_for_good_at(plan);
  return section.from_km < stop_km
             ? std::string()
             : plan.words.say("the train does not come here: it has to stop at km {}",
                              km_words(stop_km, plan.words));
}

}  // namespace panup
