#include "wording/stretches.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <span>

namespace panup {

namespace {

bool alike(const PlannedSection& a, const PlannedSection& b) {
  if (!a.lowered_for.empty()) {
    // A system separation section is one thing to the driver, though the system changes in it.
    return a.lowered_for == b.lowered_for && a.speed_kmh == b.speed_kmh &&
           a.reversed == b.reversed && a.answer == b.answer;
  }
  return b.lowered_for.empty() && a.raised == b.raised && a.put_dead_in_tow == b.put_dead_in_tow &&
         a.permitted_speed_kmh == b.permitted_speed_kmh && a.answer == b.answer &&
         a.supply == b.supply && a.iced == b.iced && a.reversed == b.reversed;
}

void add_once(std::vector<std::string>& list, const std::string& text) {
  if (!text.empty() && std::ranges::find(list, text) == list.end()) {
    list.push_back(text);
  }
}

Stretch stretch_of(const Plan& plan, std::span<const PlannedSection> sections) {
  Stretch stretch{.from_km = sections.front().from_km,
                  .to_km = sections.back().to_km,
                  .first = sections.front(),
                  .speed_kmh = std::ranges::max(sections, {}, &PlannedSection::speed_kmh).speed_kmh,
                  .speed_from_km = {},
                  .leaves_for = {},
                  .name = {},
                  .reasons = {}};
  std::vector<std::string> names;
  std::vector<std::string> reasons;
  bool begun = false;
  for (const PlannedSection& section : sections) {
    if (section.supply != stretch.first.supply) {
      stretch.leaves_for = section.supply;
    }
    if (section.section < plan.route.sections.size()) {
      add_once(names, plan.route.sections[section.section].name);
    }
    if (section.speed_kmh == stretch.speed_kmh) {
      if (!begun && section.from_km > stretch.from_km) {
        stretch.speed_from_km = section.from_km;
      }
      begun = true;
      add_once(reasons, section.speed_reason);
    }
  }
  stretch.name = names.empty()      ? ""
                 : names.size() < 3 ? fmt::format("{}", fmt::join(names, "; "))
                                    : plan.words.say("{} to {}", names.front(), names.back());
  stretch.reasons = fmt::format("{}", fmt::join(reasons, "; "));
  return stretch;
}

}  // namespace

std::vector<Stretch> stretches_of(const Plan& plan) {
  std::vector<Stretch> stretches;
  const std::span<const PlannedSection> sections(plan.sections);
  for (std::size_t first = 0; first < sections.size();) {
    std::size_t end = first + 1;
    while (end < sections.size() && sections[end - 1].to_km == sections[end].from_km &&
           alike(sections[first], sections[end])) {
      ++end;
    }
    stretches.push_back(stretch_of(plan, sections.subspan(first, end - first)));
    first = end;
  }
  return stretches;
}

}  // namespace panup
