#include "line/route.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

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

std::string name_of(const SeparationZone& zone) {
  if (zone.kind != ZoneKind::live) {
    return zone.kind == ZoneKind::insulator ? std::string("the insulator")
                                            : fmt::format("the {} zone", name_of(zone.kind));
  }
  if (zone.supply) {
    return std::string(name_of(*zone.supply));
  }
  return zone.phase.empty() ? std::string("the live zone") : "phase " + zone.phase;
}

double departure_km(const Route& route) {
  return route.departs_km.value_or(route.sections.front().from_km);
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

}  // namespace panup
