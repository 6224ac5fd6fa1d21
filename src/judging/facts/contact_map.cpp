#include "judging/facts/contact_map.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace panup {

namespace {

constexpr double half_micrometres_in_a_metre = 2e6;
constexpr std::int64_t beyond_all = 2'000'000'000'000;

}  // namespace

std::int64_t half_micrometres(double metres) {
  const double limit = static_cast<double>(beyond_all) / half_micrometres_in_a_metre;
  if (!(std::abs(metres) < limit)) {
    return metres < 0 ? -beyond_all : beyond_all;
  }
  return 2 * std::llround(metres * half_micrometres_in_a_metre / 2);
}

double metres(std::int64_t half_micrometres) {
  if (std::abs(half_micrometres) >= beyond_all) {
    return std::copysign(std::numeric_limits<double>::infinity(),
                         static_cast<double>(half_micrometres));
  }
  return static_cast<double>(half_micrometres) / half_micrometres_in_a_metre;
}

ContactMap contact_map(std::span<const SeparationZone> zones, std::span<const Collector> collectors,
                       std::int64_t longer) {
  ContactMap map{
      .collectors = collectors.size(), .zones = zones.size(), .ranges = {}, .events = {}};
  for (const Collector& collector : collectors) {
    const std::int64_t behind = half_micrometres(collector.behind_front_m);
    const std::int64_t reach = half_micrometres(collector.strip_extent_m) / 2 + longer;
    for (const SeparationZone& zone : zones) {
      if (zone.kind == ZoneKind::insulator) {
        map.ranges.push_back({.from = 1, .to = 0});
        continue;
      }
      const std::int64_t from = half_micrometres(zone.from_m);
      const std::int64_t to = half_micrometres(zone.to_m);
      TouchRange range{.from = -beyond_all, .to = beyond_all};
      if (from > -beyond_all) {
        range.from = from + behind - reach;
        map.events.push_back(range.from);
      }
      if (to < beyond_all) {
        range.to = to + behind + reach;
        map.events.push_back(range.to);
      }
      map.ranges.push_back(range);
    }
  }
  std::ranges::sort(map.events);
  const auto rest = std::ranges::unique(map.events);
  map.events.erase(rest.begin(), rest.end());
  return map;
}

void JoinedSets::reset(std::size_t count) {
  parent_.resize(count);
  std::iota(parent_.begin(), parent_.end(), std::size_t{0});
}

std::size_t JoinedSets::find(std::size_t thing) {
  while (parent_[thing] != thing) {
    parent_[thing] = parent_[parent_[thing]];
    thing = parent_[thing];
  }
  return thing;
}

void JoinedSets::join(std::size_t a, std::size_t b) {
  const std::size_t first = find(a);
  const std::size_t second = find(b);
  parent_[std::max(first, second)] = std::min(first, second);
}

void join_at(const ContactMap& map, std::span<const HighVoltageJoin> joins, std::int64_t front,
             JoinedSets& sets) {
  sets.reset(map.zones + map.collectors);
  for (const HighVoltageJoin& join : joins) {
    for (std::size_t i = 1; i < join.collectors.size(); ++i) {
      sets.join(map.zones + join.collectors[0], map.zones + join.collectors[i]);
    }
  }
  for (std::size_t collector = 0; collector < map.collectors; ++collector) {
    for (std::size_t zone = 0; zone < map.zones; ++zone) {
      if (map.touches(collector, zone, front)) {
        sets.join(zone, map.zones + collector);
      }
    }
  }
}

}  // namespace panup
