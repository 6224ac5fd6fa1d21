#include "line/route.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/same_place.h"

namespace panup {

std::string_view name_of(TemperatureRange range) {
  static constexpr std::array<std::string_view, 4> names{"T1", "T2", "T3", "Tx"};
  return names.at(static_cast<std::size_t>(range));
}

Temperatures temperatures_of(TemperatureRange range) {
  static constexpr std::array<Temperatures, 4> ranges{{{-25, 40}, {-40, 35}, {-25, 45}, {-40, 50}}};
  return ranges.at(static_cast<std::size_t>(range));
}

std::string_view name_of(DesignType type) {
  switch (type) {
    case DesignType::a:
      return "A";
    case DesignType::b:
      return "B";
    case DesignType::c:
      return "C";
  }
  return {};
}

std::string_view name_of(SeparationKind kind) {
  return kind == SeparationKind::phase ? "phase separation section" : "system separation section";
}

std::string_view name_of(ZoneKind kind) {
  switch (kind) {
    case ZoneKind::live:
      return "live";
    case ZoneKind::neutral:
      return "neutral";
    case ZoneKind::earthed:
      return "earthed";
    case ZoneKind::insulator:
      return "insulator";
  }
  return {};
}

std::string_view name_of(Board board) {
  switch (board) {
    case Board::breaker_off:
      return "breaker off";
    case Board::lower:
      return "lower";
    case Board::raise:
      return "raise";
    case Board::breaker_on:
      return "breaker on";
  }
  return {};
}

std::optional<Board> board_named(std::string_view name) {
  for (const Board board : {Board::breaker_off, Board::lower, Board::raise, Board::breaker_on}) {
    if (name_of(board) == name) {
      return board;
    }
  }
  return std::nullopt;
}

std::string name_of(const SeparationZone& zone, const Words& words) {
  switch (zone.kind) {
    case ZoneKind::insulator:
      return words.say("the insulator");
    case ZoneKind::neutral:
      return words.say("the neutral zone");
    case ZoneKind::earthed:
      return words.say("the earthed zone");
    case ZoneKind::live:
      break;
  }
  if (zone.supply) {
    return words.named(name_of(*zone.supply));
  }
  return zone.phase.empty() ? words.say("the live zone") : words.say("phase {}", zone.phase);
}

void merge(std::vector<IceStretch>& ice) {
  std::ranges::sort(ice, {}, &IceStretch::from_km);
  std::vector<IceStretch> merged;
  for (const IceStretch& stretch : ice) {
    if (!merged.empty() && stretch.from_km <= merged.back().to_km + same_place_km) {
      merged.back().to_km = std::max(merged.back().to_km, stretch.to_km);
    } else {
      merged.push_back(stretch);
    }
  }
  ice = std::move(merged);
}

double departure_km(const Route& route) {
  return route.departs_km.value_or(route.sections.front().from_km);
}

std::string end_words(const Route& route, const Words& words) {
  return route.ends_at.empty() ? words.say("the end of the route") : route.ends_at;
}

SeparationExtent extent_of(const SeparationSection& separation) {
  double from_m = 0;
  double to_m = separation.length_m;
  if (separation.zones.size() >= 2) {
    from_m = std::min(from_m, separation.zones[1].from_m);
    to_m = std::max(to_m, separation.zones[separation.zones.size() - 2].to_m);
  }
  return {.from_km = separation.from_km + from_m / 1000, .to_km = separation.from_km + to_m / 1000};
}

namespace {

/// To the millimetre: what is added to a kilometre is not told by its last digits.
double line_km_at(const Section& section, double km) {
  const double along_km = std::clamp(km, section.from_km, section.to_km) - section.from_km;
  const bool falling = *section.line_to_km < *section.line_from_km;
  // Adding 0 makes 0 of -0.
  return std::round((*section.line_from_km + (falling ? -along_km : along_km)) * 1e6) / 1e6 + 0.0;
}

/// Whether one goes on along its line where the other ends.
bool goes_on(const LineStretch& before, const LineStretch& next) {
  const bool falling = before.to_km < before.from_km;
  return before.line == next.line && before.to_km == next.from_km &&
         falling == (next.to_km < next.from_km);
}

}  // namespace

std::vector<LineStretch> stretches_on_lines(const Route& route, double from_km, double to_km) {
  std::vector<LineStretch> stretches;
  for (const Section& section : route.sections) {
    const bool within = section.to_km > from_km && section.from_km < to_km;
    if (!within || !section.line_from_km || !section.line_to_km) {
      continue;
    }
    const LineStretch stretch{section.line, line_km_at(section, from_km),
                              line_km_at(section, to_km)};
    if (!stretches.empty() && goes_on(stretches.back(), stretch)) {
      stretches.back().to_km = stretch.to_km;
    } else {
      stretches.push_back(stretch);
    }
  }
  return stretches;
}

std::string line_words(const std::vector<LineStretch>& stretches, const Words& words) {
  std::vector<std::string> said;
  for (const LineStretch& stretch : stretches) {
    said.push_back(
        words.say("line {} km {:.3f}–{:.3f}", stretch.line, stretch.from_km, stretch.to_km));
  }
  return words.listed(said);
}

std::optional<LinePlace> place_on_line(const Route& route, double km) {
  for (const Section& section : route.sections) {
    if (km <= section.to_km || &section == &route.sections.back()) {
      return section.line_from_km && section.line_to_km
                 ? std::optional(LinePlace{section.line, line_km_at(section, km)})
                 : std::nullopt;
    }
  }
  return std::nullopt;
}

}  // namespace panup
