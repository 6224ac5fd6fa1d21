#include "day/train_change.h"

#include <algorithm>
#include <array>

#include "base/differing_stretches.h"

namespace panup {

namespace {

template <typename Thing, typename Stretch, typename Part>
std::vector<ChangedStretch<Thing>> changed_stretches(const std::vector<Stretch>& before,
                                                     const std::vector<Stretch>& then, Part part) {
  const auto of = [part](const Stretch* stretch) {
    return stretch == nullptr ? std::nullopt : std::optional<Thing>(stretch->*part);
  };
  const auto difference = [&of](const Stretch* was,
                                const Stretch* is) -> std::optional<BeforeAndThen<Thing>> {
    BeforeAndThen<Thing> how{of(was), of(is)};
    return how.before == how.then ? std::nullopt : std::optional(std::move(how));
  };
  std::vector<ChangedStretch<Thing>> changed;
  for (auto& stretch : differing_stretches(before, then, difference)) {
    changed.push_back({stretch.from_km, stretch.to_km, std::move(stretch.differs)});
  }
  return changed;
}

/// Takes pairs that `same` says are one out of both lists, each with the first that is left.
template <typename Thing, typename Same>
std::vector<std::pair<Thing, Thing>> take_pairs(std::vector<Thing>& before,
                                                std::vector<Thing>& then, const Same& same) {
  std::vector<std::pair<Thing, Thing>> pairs;
  std::vector<Thing> left;
  for (Thing& one : before) {
    const auto found =
        std::ranges::find_if(then, [&](const Thing& other) { return same(one, other); });
    if (found == then.end()) {
      left.push_back(std::move(one));
    } else {
      pairs.emplace_back(std::move(one), std::move(*found));
      then.erase(found);
    }
  }
  before = std::move(left);
  return pairs;
}

double place_of(const BeforeAndThen<ReadOrder>& order) {
  return order.then ? order.then->at_km : order.before->at_km;
}

std::vector<BeforeAndThen<ReadOrder>> changed_orders(std::vector<ReadOrder> before,
                                                     std::vector<ReadOrder> then) {
  take_pairs(before, then, [](const ReadOrder& a, const ReadOrder& b) { return a == b; });
  std::vector<BeforeAndThen<ReadOrder>> changed;
  const auto take = [&](const auto& same) {
    for (auto& [was, is] : take_pairs(before, then, same)) {
      changed.push_back({std::move(was), std::move(is)});
    }
  };
  // In other words at the same place, then at another place, then of another content.
  take([](const ReadOrder& a, const ReadOrder& b) {
    return a.action == b.action && a.what == b.what && a.at_km == b.at_km;
  });
  take([](const ReadOrder& a, const ReadOrder& b) {
    return a.action == b.action && a.what == b.what;
  });
  take([](const ReadOrder& a, const ReadOrder& b) {
    return a.action == b.action && a.at_km == b.at_km;
  });
  for (ReadOrder& order : before) {
    changed.push_back({std::move(order), std::nullopt});
  }
  for (ReadOrder& order : then) {
    changed.push_back({std::nullopt, std::move(order)});
  }
  std::ranges::stable_sort(changed, {}, place_of);
  return changed;
}

std::vector<ChangedSaying> changed_sayings(const std::vector<SaidWhere>& before,
                                           const std::vector<SaidWhere>& then) {
  std::vector<ChangedSaying> all;
  const auto add = [&all](const SaidWhere& said, std::vector<KmStretch> ChangedSaying::*side) {
    auto same = std::ranges::find_if(all, [&](const ChangedSaying& other) {
      return other.rule == said.rule && other.text == said.text;
    });
    if (same == all.end()) {
      same = all.insert(all.end(), {said.rule, said.text, {}, {}});
    }
    (*same).*side = said.where;
  };
  for (const SaidWhere& said : then) {
    add(said, &ChangedSaying::then);
  }
  for (const SaidWhere& said : before) {
    add(said, &ChangedSaying::before);
  }
  std::erase_if(all, [](const ChangedSaying& said) { return said.before == said.then; });
  return all;
}

std::vector<ConsentName> only_in(const std::vector<ConsentName>& some,
                                 const std::vector<ConsentName>& others) {
  std::vector<ConsentName> only;
  std::ranges::copy_if(some, std::back_inserter(only), [&](const ConsentName& consent) {
    return std::ranges::find(others, consent) == others.end();
  });
  return only;
}

const ReadFailure* failure_of(const TrainReading& reading, PantographRef failed) {
  const auto found = std::ranges::find(reading.failures, failed, &ReadFailure::failed);
  return found == reading.failures.end() ? nullptr : &*found;
}

std::vector<ChangedFailure> changed_failures(const TrainReading& before, const TrainReading& then) {
  std::vector<PantographRef> all;
  for (const TrainReading* const reading : {&before, &then}) {
    for (const ReadFailure& failure : reading->failures) {
      all.push_back(failure.failed);
    }
  }
  std::ranges::sort(all);
  all.erase(std::ranges::unique(all).begin(), all.end());
  std::vector<ChangedFailure> changed;
  for (const PantographRef failed : all) {
    const ReadFailure* const was = failure_of(before, failed);
    const ReadFailure* const is = failure_of(then, failed);
    ChangedFailure failure{
        .failed = failed, .answer = {}, .before_departure = {}, .on_the_road = {}};
    if (was != nullptr) {
      failure.answer.before = was->answer;
    }
    if (is != nullptr) {
      failure.answer.then = is->answer;
    }
    static const ReadFailure nothing{};
    const ReadFailure& first = was != nullptr ? *was : nothing;
    const ReadFailure& second = is != nullptr ? *is : nothing;
    failure.before_departure = changed_stretches<WhatRemains>(
        first.before_departure, second.before_departure, &ReadFailureStretch::remains);
    failure.on_the_road = changed_stretches<WhatRemains>(first.on_the_road, second.on_the_road,
                                                         &ReadFailureStretch::remains);
    if (failure.answer.before != failure.answer.then || !failure.before_departure.empty() ||
        !failure.on_the_road.empty()) {
      changed.push_back(std::move(failure));
    }
  }
  return changed;
}

std::vector<std::string> changed_card_parts(const TrainReading& before, const TrainReading& then) {
  std::vector<std::string> names;
  for (const CardPart& part : then.card) {
    if (std::ranges::find(before.card, part) == before.card.end()) {
      names.push_back(part.name);
    }
  }
  return names;
}

/// Somewhere it is answered like this then, and was not so answered before.
bool newly(const std::vector<ChangedStretch<HowItRuns>>& stretches, Answer answer) {
  return std::ranges::any_of(stretches, [answer](const ChangedStretch<HowItRuns>& stretch) {
    return stretch.how.then && stretch.how.then->answer == answer &&
           (!stretch.how.before || stretch.how.before->answer != answer);
  });
}

/// Whether anything of `wanted` lies outside of all of `covered`.
bool reaches_beyond(const std::vector<KmStretch>& wanted, const std::vector<KmStretch>& covered) {
  const auto difference = [](const KmStretch* was, const KmStretch* is) -> std::optional<bool> {
    return was == nullptr && is != nullptr ? std::optional(true) : std::nullopt;
  };
  return !differing_stretches(covered, wanted, difference).empty();
}

std::vector<KmStretch> all_places(const std::vector<SaidWhere>& said) {
  std::vector<KmStretch> places;
  for (const SaidWhere& one : said) {
    places.insert(places.end(), one.where.begin(), one.where.end());
  }
  return places;
}

TrainFate fate_of(const TrainChange& change, const ComparedTrain& before,
                  const ComparedTrain& then) {
  if (newly(change.stretches, Answer::none)) {
    return TrainFate::not_permitted;
  }
  if (newly(change.stretches, Answer::consent_needed)) {
    return TrainFate::consent_needed;
  }
  if (reaches_beyond(all_places(then.outcome->last_resorts),
                     all_places(before.outcome->last_resorts))) {
    return TrainFate::last_resort;
  }
  if (change.longer_s.value_or(0) >= least_loss_s) {
    return TrainFate::slower;
  }
  const bool anything = !change.stretches.empty() || !change.orders.empty() ||
                        !change.forbidden.empty() || !change.consents_missing.empty() ||
                        !change.last_resorts.empty() || !change.consents_newly_used.empty() ||
                        !change.consents_no_longer_used.empty() || !change.failures.empty() ||
                        change.card_again;
  return anything ? TrainFate::other : TrainFate::unchanged;
}

}  // namespace

TrainChange compare_trains(const ComparedTrain& before, const ComparedTrain& then) {
  TrainChange change;
  if (before.reading == nullptr || then.reading == nullptr) {
    change.fate = TrainFate::no_plan;
    change.card_again = before.reading != then.reading;
    return change;
  }
  change.stretches = changed_stretches<HowItRuns>(before.reading->sections, then.reading->sections,
                                                  &ReadSection::runs);
  change.orders = changed_orders(before.reading->orders, then.reading->orders);
  const TrainOutcome& was = *before.outcome;
  const TrainOutcome& is = *then.outcome;
  change.forbidden = changed_sayings(was.forbidden, is.forbidden);
  change.consents_missing = changed_sayings(was.consents_missing, is.consents_missing);
  change.last_resorts = changed_sayings(was.last_resorts, is.last_resorts);
  change.consents_newly_used = only_in(is.consents_used, was.consents_used);
  change.consents_no_longer_used = only_in(was.consents_used, is.consents_used);
  change.failures = changed_failures(*before.reading, *then.reading);
  change.card_parts = changed_card_parts(*before.reading, *then.reading);
  change.card_again = !change.card_parts.empty();
  if (was.running_time_s > 0 && is.running_time_s > 0) {
    change.longer_s = is.running_time_s - was.running_time_s;
  }
  change.fate = fate_of(change, before, then);
  return change;
}

}  // namespace panup
