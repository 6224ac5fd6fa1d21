#include "wording/values_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace panup {

namespace {

/// More are counted.
constexpr std::size_t most_ids_named = 6;

struct Alike {
  ValueOf of{};
  std::string key;
  std::string source;
  std::vector<std::string> ids;
};

std::string what_words(const Alike& alike, const Words& words) {
  if (alike.of == ValueOf::train) {
    return words.say("'{}' of the train", alike.key);
  }
  const bool one = alike.ids.size() == 1;
  const std::string things = words.named(one ? name_of(alike.of) : name_of_several(alike.of));
  return alike.ids.size() > most_ids_named
             ? words.say("'{}' of {} {}", alike.key, alike.ids.size(), things)
             : words.say("'{}' of {} {}", alike.key, things, words.listed(alike.ids));
}

}  // namespace

void add_values(const std::vector<DecidingValue>& more, std::vector<DecidingValue>& values) {
  for (const DecidingValue& one : more) {
    if (std::ranges::find(values, one) == values.end()) {
      values.push_back(one);
    }
  }
}

std::vector<ValuesAlike> values_alike(std::span<const DecidingValue> values, const Words& words) {
  std::vector<Alike> all;
  for (const DecidingValue& one : values) {
    auto found = std::ranges::find_if(all, [&](const Alike& alike) {
      return alike.of == one.of && alike.key == one.key && alike.source == one.source;
    });
    if (found == all.end()) {
      found =
          all.insert(all.end(), {.of = one.of, .key = one.key, .source = one.source, .ids = {}});
    }
    if (std::ranges::find(found->ids, one.id) == found->ids.end()) {
      found->ids.push_back(one.id);
    }
  }
  std::vector<ValuesAlike> alike;
  for (const Alike& one : all) {
    alike.push_back({what_words(one, words), one.source});
  }
  return alike;
}

std::string where_from_words(std::span<const DecidingValue> values, const Words& words) {
  struct FromOne {
    std::string source;
    std::vector<std::string> what;
  };
  std::vector<FromOne> by_source;
  for (ValuesAlike& one : values_alike(values, words)) {
    if (one.source.empty()) {
      continue;
    }
    auto found = std::ranges::find(by_source, one.source, &FromOne::source);
    if (found == by_source.end()) {
      found = by_source.insert(by_source.end(), {one.source, {}});
    }
    found->what.push_back(std::move(one.what));
  }
  std::string all;
  for (const FromOne& from : by_source) {
    all +=
        fmt::format("{}{}: {}", all.empty() ? "" : "; ", fmt::join(from.what, ", "), from.source);
  }
  return all;
}

std::vector<DecidingValue> deciding_values(const Plan& plan) {
  std::vector<DecidingValue> values;
  for (const PlannedSection& section : plan.sections) {
    for (const Finding& finding : section.findings) {
      add_values(finding.values, values);
    }
  }
  return values;
}

}  // namespace panup
