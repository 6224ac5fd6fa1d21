#include "plan/preferred_sets.h"

#include <algorithm>
#include <map>

namespace panup {

namespace {

/// Any length: costs of configurations on one ground compare alike on all.
constexpr double some_length_m = 1000;

/// What is up on the vehicles looked at so far, and those of them that work.
struct Beginning {
  PantographSet raised;
  PantographSet working;
  LadderCost cost;
};

bool before(const Beginning& a, const Beginning& b) {
  return a.cost == b.cost ? a.raised < b.raised : a.cost < b.cost;
}

/// The vehicles from here to the end of the train that could work: they are taken to do so.
PantographSet still_able(const std::vector<VehicleChoices>& choices, std::size_t first) {
  PantographSet able;
  for (std::size_t v = first; v < choices.size(); ++v) {
    const bool may_rise =
        std::ranges::any_of(choices[v].sets, [](PantographSet set) { return !set.empty(); });
    able |= may_rise ? choices[v].vehicle->all : PantographSet{};
  }
  return able;
}

/// The best few of each number raised.
std::vector<Beginning> thinned(std::vector<Beginning> beginnings) {
  constexpr std::size_t kept = 4;
  std::ranges::sort(beginnings, before);
  std::map<std::size_t, std::size_t> of_number;
  std::erase_if(beginnings, [&](const Beginning& beginning) {
    return ++of_number[beginning.raised.size()] > kept;
  });
  return beginnings;
}

std::vector<Beginning> extended(const Judge& judge, const Ground& ground, const LadderTerms& terms,
                                const std::vector<VehicleChoices>& choices, std::size_t v,
                                const std::vector<Beginning>& beginnings, PantographSet defective) {
  const std::size_t most = most_permitted(judge, ground);
  const PantographSet able = still_able(choices, v + 1);
  std::vector<Beginning> longer;
  for (const Beginning& beginning : beginnings) {
    for (const PantographSet set : choices[v].sets) {
      const PantographSet raised = beginning.raised | set;
      if (set.intersects(defective) || raised.size() > most) {
        continue;
      }
      const PantographSet working =
          set.empty() ? beginning.working : beginning.working | choices[v].vehicle->all;
      const Verdict verdict = judge.judge_part(ground, raised, working | able);
      if (!verdict.forbidden) {
        longer.push_back({raised, working, cost_of(verdict, some_length_m, terms)});
      }
    }
  }
  return thinned(std::move(longer));
}

bool has_too_few_points(const Verdict& verdict) {
  return verdict.leading_short > 0 || verdict.banking_short > 0 || verdict.following_short > 0;
}

/// Whether one of the vehicle may be worse off with `one` alone up than with more, whatever the
/// others do.
bool may_want_more(const Judge& judge, const Ground& ground, PantographSet one,
                   PantographSet all_able) {
  const Verdict among_others = judge.judge_part(ground, one, all_able);
  const Verdict by_itself = judge.judge_part(ground, one, one);
  return has_too_few_points(among_others) || has_too_few_points(by_itself) ||
         judge.judge(ground, one, {}).missing_current_a > 0;
}

}  // namespace

std::vector<VehicleChoices> narrowed(const Judge& judge, const Ground& ground,
                                     std::vector<VehicleChoices> choices) {
  const PantographSet all_able = still_able(choices, 0);
  const PantographSet ordered = ordered_up(judge.train(), ground.fit, {});
  for (VehicleChoices& of_vehicle : choices) {
    const PantographSet wanted = ordered & of_vehicle.vehicle->all;
    std::map<PantographSet, bool> one_is_enough;
    for (const PantographSet set : of_vehicle.sets) {
      if (set.size() == 1) {
        one_is_enough[set] = !may_want_more(judge, ground, set, all_able);
      }
    }
    std::erase_if(of_vehicle.sets, [&](PantographSet set) {
      if (!set.includes(wanted)) {
        return true;
      }
      return set.size() > std::max<std::size_t>(1, wanted.size()) &&
             std::ranges::any_of(set, [&](std::size_t p) {
               return wanted.empty() && one_is_enough[PantographSet{p}];
             });
    });
  }
  return choices;
}

std::vector<PantographSet> preferred_sets(const Judge& judge, const Ground& ground,
                                          const std::vector<VehicleChoices>& narrowed,
                                          PantographSet defective, const LadderTerms& terms) {
  std::vector<Beginning> beginnings{{}};
  for (std::size_t v = 0; v < narrowed.size(); ++v) {
    beginnings = extended(judge, ground, terms, narrowed, v, beginnings, defective);
  }
  std::vector<Beginning> whole;
  for (const Beginning& beginning : beginnings) {
    const Verdict verdict = judge.judge(ground, beginning.raised, {});
    if (!verdict.forbidden) {
      whole.push_back(
          {beginning.raised, beginning.working, cost_of(verdict, some_length_m, terms)});
    }
  }
  std::ranges::sort(whole, before);
  constexpr std::size_t best = 6;
  std::vector<PantographSet> sets;
  std::map<std::size_t, std::size_t> of_working;
  for (const Beginning& one : whole) {
    if (++of_working[one.working.size()] == 1 || sets.size() < best) {
      sets.push_back(one.raised);
    }
  }
  return sets;
}

}  // namespace panup
