#include "wording/stretches.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace panup {

namespace {

bool alike(const PlannedSection& a, const PlannedSection& b) {
  if (!a.lowered_for.empty()) {
    // A system separation section is one thing to the driver, though the system changes in it.
    return a.lowered_for == b.lowered_for && a.speed_kmh == b.speed_kmh &&
           a.reversed == b.reversed && a.answer == b.answer;
  }
  return b.lowered_for.empty() && a.raised == b.raised && a.put_dead_in_tow == b.put_dead_in_tow &&
         a.speed_kmh == b.speed_kmh && a.answer == b.answer && a.supply == b.supply &&
         a.iced == b.iced && a.reversed == b.reversed;
}

void add_once(std::vector<std::string>& list, const std::string& text) {
  if (!text.empty() && std::ranges::find(list, text) == list.end()) {
    list.push_back(text);
  }
}

}  // namespace

std::vector<Stretch> stretches_of(const Plan& plan) {
  std::vector<Stretch> stretches;
  std::vector<std::string> names;
  std::vector<std::string> reasons;
  const auto finish = [&] {
    if (stretches.empty()) {
      return;
    }
    Stretch& stretch = stretches.back();
    stretch.name = names.empty()      ? ""
                   : names.size() < 3 ? fmt::format("{}", fmt::join(names, "; "))
                                      : fmt::format("{} to {}", names.front(), names.back());
    stretch.reasons = fmt::format("{}", fmt::join(reasons, "; "));
  };
  for (const PlannedSection& section : plan.sections) {
    if (stretches.empty() || stretches.back().to_km != section.from_km ||
        !alike(stretches.back().first, section)) {
      finish();
      names.clear();
      reasons.clear();
      stretches.push_back({.from_km = section.from_km,
                           .to_km = section.to_km,
                           .first = section,
                           .leaves_for = {},
                           .name = {},
                           .reasons = {}});
    }
    Stretch& stretch = stretches.back();
    stretch.to_km = section.to_km;
    if (section.supply != stretch.first.supply) {
      stretch.leaves_for = section.supply;
    }
    if (section.section < plan.route.sections.size()) {
      add_once(names, plan.route.sections[section.section].name);
    }
    add_once(reasons, section.speed_reason);
  }
  finish();
  return stretches;
}

ShownSpeed shown_speed(const std::vector<Instruction>& instructions, const Stretch& stretch) {
  const double permitted = stretch.first.speed_kmh;
  double holds = permitted;  // the highest order in the stretch so far, no more than permitted
  std::optional<double> from_km;
  for (const Instruction& instruction : instructions) {
    if (instruction.action != Action::speed || instruction.speed_kmh <= 0 ||
        instruction.at_km >= stretch.to_km) {
      continue;
    }
    const double ordered = std::min(instruction.speed_kmh, permitted);
    if (instruction.at_km <= stretch.from_km) {
      holds = ordered;
    } else if (ordered > holds) {
      holds = ordered;
      from_km = instruction.at_km;
    }
  }
  if (holds < permitted) {
    return {.speed_kmh = holds, .from_km = from_km, .stretch_permits_kmh = permitted};
  }
  return {.speed_kmh = permitted, .from_km = from_km, .stretch_permits_kmh = {}};
}

}  // namespace panup
