#include "judging/facts/standing.h"

#include <algorithm>

namespace panup {

namespace {

/// Half a millimetre: what just touches counts, whatever the sums it comes from.
constexpr double just_touching_km = 5e-7;

void add_zones(const SeparationSection& section, const Words& words,
               std::vector<NoStandingStretch>& stretches) {
  const auto add = [&](const std::string& what, double from_m, double to_m) {
    stretches.push_back({.words = words.say("{} of {}", what, section.name),
                         .from_km = section.from_km + from_m / 1000,
                         .to_km = section.from_km + to_m / 1000});
  };
  for (std::size_t i = 0; i < section.zones.size(); ++i) {
    const SeparationZone& zone = section.zones[i];
    if (zone.kind != ZoneKind::live) {
      add(name_of(zone, words), zone.from_m, zone.to_m);
    }
    if (i > 0) {
      const SeparationZone& before = section.zones[i - 1];
      const bool both_live = before.kind == ZoneKind::live && zone.kind == ZoneKind::live;
      if (both_live && before.to_m >= zone.from_m) {
        add(words.say("the overlap"), zone.from_m, before.to_m);
      }
    }
  }
}

}  // namespace

std::vector<NoStandingStretch> no_standing_stretches(const Route& route, const Words& words) {
  std::vector<NoStandingStretch> stretches;
  for (const SeparationSection& section : route.separations) {
    if (!section.zones.empty()) {
      add_zones(section, words, stretches);
    } else {
      const SeparationExtent extent = extent_of(section);
      stretches.push_back(
          {.words = section.name, .from_km = extent.from_km, .to_km = extent.to_km});
    }
  }
  for (const SectionInsulator& insulator : route.section_insulators) {
    stretches.push_back({.words = insulator.name,
                         .from_km = insulator.at_km - insulator.length_m / 2000,
                         .to_km = insulator.at_km + insulator.length_m / 2000});
  }
  std::ranges::stable_sort(stretches, {}, &NoStandingStretch::from_km);
  return stretches;
}

std::vector<BadStand> bad_stands(std::span<const NoStandingStretch> stretches,
                                 std::span<const Collector> collectors, double front_km,
                                 double short_m) {
  std::vector<BadStand> bad;
  for (std::size_t c = 0; c < collectors.size(); ++c) {
    const double farthest =
        front_km - (collectors[c].behind_front_m - collectors[c].strip_extent_m / 2) / 1000;
    const double nearest =
        front_km -
        (collectors[c].behind_front_m + collectors[c].strip_extent_m / 2 + short_m) / 1000;
    for (std::size_t s = 0; s < stretches.size(); ++s) {
      if (farthest >= stretches[s].from_km - just_touching_km &&
          nearest <= stretches[s].to_km + just_touching_km) {
        bad.push_back({.collector = c, .stretch = s});
      }
    }
  }
  return bad;
}

std::optional<int> clear_before_m(std::span<const NoStandingStretch> stretches,
                                  std::span<const Collector> collectors, double front_km,
                                  double short_m, int most_m) {
  for (int metres = 0; metres <= most_m; ++metres) {
    if (bad_stands(stretches, collectors, front_km - metres / 1000.0, short_m).empty()) {
      return metres;
    }
  }
  return std::nullopt;
}

}  // namespace panup
