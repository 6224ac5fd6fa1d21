#include "judging/facts/remedies.h"

#include <fmt/ranges.h>

#include <algorithm>

namespace panup {

namespace {

std::string condition(const Remedy& remedy, const RaisedCollectors& raised, const Words& words) {
  std::vector<std::string> opened;
  for (const std::size_t join : remedy.opened) {
    opened.push_back(raised.joins[join].name);
  }
  std::vector<std::string> lowered;
  for (const std::size_t collector : remedy.lowered) {
    lowered.push_back(to_string(raised.collectors[collector].ref));
  }
  const std::string open =
      words.say_of(opened.size(), "{} is opened", "{} are opened", words.listed(opened));
  const std::string lower =
      words.say_of(lowered.size(), "{} is lowered", "{} are lowered", words.listed(lowered));
  return lowered.empty() ? open : opened.empty() ? lower : words.say("{} and {}", open, lower);
}

}  // namespace

RaisedCollectors after(const RaisedCollectors& raised, const Remedy& remedy) {
  RaisedCollectors left;
  std::vector<std::size_t> new_index(raised.collectors.size());
  for (std::size_t i = 0; i < raised.collectors.size(); ++i) {
    new_index[i] = left.collectors.size();
    if (std::ranges::find(remedy.lowered, i) == remedy.lowered.end()) {
      left.collectors.push_back(raised.collectors[i]);
    }
  }
  for (std::size_t i = 0; i < raised.joins.size(); ++i) {
    if (std::ranges::find(remedy.opened, i) != remedy.opened.end()) {
      continue;
    }
    HighVoltageJoin join = raised.joins[i];
    join.collectors.clear();
    for (const std::size_t collector : raised.joins[i].collectors) {
      if (std::ranges::find(remedy.lowered, collector) == remedy.lowered.end()) {
        join.collectors.push_back(new_index[collector]);
      }
    }
    if (join.collectors.size() > 1) {
      left.joins.push_back(std::move(join));
    }
  }
  return left;
}

std::vector<Remedy> remedies(const RaisedCollectors& raised,
                             const std::function<bool(const RaisedCollectors&)>& may_pass) {
  std::vector<std::size_t> openable;
  for (std::size_t i = 0; i < raised.joins.size(); ++i) {
    if (raised.joins[i].can_be_opened && raised.joins[i].collectors.size() > 1) {
      openable.push_back(i);
    }
  }
  // Steps: joins to open first, then collectors to lower; sets of them in that order.
  const std::size_t steps = openable.size() + raised.collectors.size();
  std::vector<Remedy> found;
  std::vector<std::size_t> chosen;
  const auto try_chosen = [&] {
    Remedy remedy;
    for (const std::size_t step : chosen) {
      if (step < openable.size()) {
        remedy.opened.push_back(openable[step]);
      } else {
        remedy.lowered.push_back(step - openable.size());
      }
    }
    if (remedy.lowered.size() < raised.collectors.size() && may_pass(after(raised, remedy))) {
      found.push_back(std::move(remedy));
    }
  };
  const std::function<void(std::size_t, std::size_t)> choose = [&](std::size_t from,
                                                                   std::size_t more) {
    if (more == 0) {
      try_chosen();
      return;
    }
    for (std::size_t step = from; step + more <= steps; ++step) {
      chosen.push_back(step);
      choose(step + 1, more - 1);
      chosen.pop_back();
    }
  };
  for (std::size_t count = 1; count <= most_steps_of_a_remedy && found.empty(); ++count) {
    choose(0, count);
  }
  std::ranges::stable_sort(found, {}, [](const Remedy& remedy) { return remedy.lowered.size(); });
  return found;
}

std::vector<Remedy> remedies(std::span<const SeparationZone> zones,
                             const RaisedCollectors& raised) {
  return remedies(raised, [zones](const RaisedCollectors& left) {
    return passes(zones, left, BreakerAt::open);
  });
}

std::string words_for(const std::vector<Remedy>& remedies, const RaisedCollectors& raised,
                      const Words& words) {
  if (remedies.empty()) {
    return words.say(
        "It passes only with pantographs lowered: all of them, or more than a few steps could "
        "name.");
  }
  std::string conditions;
  for (const Remedy& remedy : remedies) {
    const std::string one = condition(remedy, raised, words);
    conditions = conditions.empty() ? one : words.say("{}, or if {}", conditions, one);
  }
  return words.say("It passes if {}.", conditions);
}

}  // namespace panup
