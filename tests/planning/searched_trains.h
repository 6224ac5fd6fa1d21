#pragma once
/// Small trains that are searched as if they were long, beside the best of all ways.

#include <optional>
#include <random>

#include "every_way.h"
#include "plan/least_cost.h"

namespace panup::scenario {

/// The same case, with nothing judged but what the search comes to.
inline Scenario searched(Scenario scenario) {
  scenario.request.most_judged = 0;
  return scenario;
}

inline PantographSet defective_of(const PlanningCase& planning) {
  return planning.judges[0].train().defective;
}

/// What a way costs where all configurations are judged; nothing if it is none.
inline std::optional<LadderCost> cost_by_all(const PlanningCase& all, const Way& way) {
  const Exhaustive costs{all};
  LadderCost cost = costs.time_lost(0, costs.speed(0, way.raised.front()),
                                    power_share(all, 0, way.raised.front()));
  for (std::size_t i = 0; i < way.raised.size(); ++i) {
    cost += piece_cost(all, i, way.raised[i], defective_of(all));
    if (i + 1 < way.raised.size()) {
      const auto passage = passage_cost(all, i, way.raised[i], way.raised[i + 1]);
      if (!passage) {
        return std::nullopt;
      }
      cost += *passage;
    }
  }
  const std::size_t last = way.raised.size() - 1;
  return cost + costs.time_lost(costs.speed(last, way.raised[last]), 0);
}

/// Trains of up to four locomotives of up to four pantographs on a route of three sections, and
/// what lies on it.
inline Scenario longer_case(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&](unsigned below) { return random() % below; };
  Scenario scenario = RandomCase(seed).make();
  const std::size_t more = pick(3);
  for (std::size_t i = 0; i < more; ++i) {
    const Cab cab = pick(2) == 0 ? Cab::cab1 : Cab::cab2;
    const Roof roof{.strips = pick(4) == 0 ? 1 : 2,
                    .frame = pick(4) == 0 ? PantographFrame::diamond : PantographFrame::single_arm};
    scenario.add(pick(4) == 0 ? four_pantograph_locomotive(pick(2) == 0) : locomotive(roof), cab);
    if (pick(3) == 0) {
      scenario.load(static_cast<LoadNature>(pick(3)), 60);
    }
  }
  return scenario;
}

/// What the search finds of a case, what is best, and the bound.
struct Found {
  LadderCost best;
  std::optional<LadderCost> found;
  LadderCost least;
};

inline Found search_case(unsigned seed) {
  const Scenario scenario = longer_case(seed);
  const Scenario narrow = searched(scenario);
  const PlanningCase all = prepare(scenario.request);
  const PlanningCase few = prepare(narrow.request);
  return {.best = find_way(all, defective_of(all)).cost,
          .found = cost_by_all(all, find_way(few, defective_of(few))),
          .least = least_cost(all, defective_of(all))};
}

}  // namespace panup::scenario
