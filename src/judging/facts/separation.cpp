#include "judging/facts/separation.h"

#include <algorithm>
#include <cmath>
#include <deque>

#include "judging/facts/contact_map.h"

namespace panup {

namespace {

/// Something forbidden at one position, without its extent.
struct Offence {
  Conflict why{};
  std::size_t first_zone = 0;
  std::size_t second_zone = 0;
  std::size_t collector = 0;  ///< wrong system only
  friend bool operator==(const Offence&, const Offence&) = default;
};

/// What the sweep looks at, at one position.
struct Scene {
  std::span<const SeparationZone> zones;
  const RaisedCollectors& raised;
  BreakerAt breaker{};
  const ContactMap& map;
};

std::optional<Conflict> conflict_between(const SeparationZone& a, const SeparationZone& b) {
  const bool a_live = a.kind == ZoneKind::live;
  const bool b_live = b.kind == ZoneKind::live;
  if (a_live && b_live) {
    if (a.supply != b.supply) {
      return Conflict::systems_joined;
    }
    return a.phase != b.phase ? std::optional(Conflict::phases_joined) : std::nullopt;
  }
  const bool earth =
      (a_live && b.kind == ZoneKind::earthed) || (b_live && a.kind == ZoneKind::earthed);
  return earth ? std::optional(Conflict::live_to_earth) : std::nullopt;
}

bool fit_for(const Collector& collector, const SeparationZone& zone) {
  return !zone.supply ||
         std::ranges::find(collector.fit_for, *zone.supply) != collector.fit_for.end();
}

/// Whether every collector is on the first zone alone, or every one on the last alone.
bool is_outside(const Scene& scene, std::int64_t front) {
  const std::size_t last = scene.map.zones - 1;
  bool all_before = true;
  bool all_behind = true;
  for (std::size_t collector = 0; collector < scene.map.collectors; ++collector) {
    for (std::size_t zone = 0; zone < scene.map.zones; ++zone) {
      const bool touches = scene.map.touches(collector, zone, front);
      all_before &= touches == (zone == 0);
      all_behind &= touches == (zone == last);
    }
  }
  return all_before || all_behind;
}

/// Calls `found` for each offence at `front`, in a settled order, until it returns false.
template <typename Found>
void look_at(const Scene& scene, std::int64_t front, JoinedSets& sets, const Found& found) {
  const ContactMap& map = scene.map;
  join_at(map, scene.raised.joins, front, sets);
  for (std::size_t a = 0; a < map.zones; ++a) {
    for (std::size_t b = a + 1; b < map.zones; ++b) {
      if (sets.find(a) != sets.find(b)) {
        continue;
      }
      const auto why = conflict_between(scene.zones[a], scene.zones[b]);
      if (why && !found({.why = *why, .first_zone = a, .second_zone = b, .collector = 0})) {
        return;
      }
    }
  }
  for (std::size_t zone = 0; zone < map.zones; ++zone) {
    for (std::size_t collector = 0; collector < map.collectors; ++collector) {
      if (scene.zones[zone].kind == ZoneKind::live && map.touches(collector, zone, front) &&
          !fit_for(scene.raised.collectors[collector], scene.zones[zone]) &&
          !found({.why = Conflict::wrong_system,
                  .first_zone = zone,
                  .second_zone = zone,
                  .collector = collector})) {
        return;
      }
    }
  }
  if (scene.breaker == BreakerAt::closed_against_rule && !is_outside(scene, front)) {
    found({.why = Conflict::breaker_closed,
           .first_zone = 0,
           .second_zone = map.zones - 1,
           .collector = 0});
  }
}

/// The shortest way from one zone to another over collectors and conductors of the train. Nodes are
/// zones, then collectors, then joins.
std::vector<ChainLink> chain_between(const Scene& scene, std::int64_t front, std::size_t from,
                                     std::size_t to) {
  const std::size_t zones = scene.map.zones;
  const std::size_t collectors = scene.map.collectors;
  const std::size_t count = zones + collectors + scene.raised.joins.size();
  const auto joins_them = [&](std::size_t join, std::size_t collector) {
    const auto& joined = scene.raised.joins[join].collectors;
    return std::ranges::find(joined, collector) != joined.end();
  };
  const auto linked = [&](std::size_t a, std::size_t b) {
    const std::size_t low = std::min(a, b);
    const std::size_t high = std::max(a, b);
    if (low < zones) {
      return high >= zones && high < zones + collectors &&
             scene.map.touches(high - zones, low, front);
    }
    return low < zones + collectors && high >= zones + collectors &&
           joins_them(high - zones - collectors, low - zones);
  };
  std::vector<std::size_t> came_from(count, count);
  std::deque<std::size_t> waiting{to};
  came_from[to] = to;
  while (!waiting.empty() && came_from[from] == count) {
    const std::size_t node = waiting.front();
    waiting.pop_front();
    for (std::size_t next = 0; next < count; ++next) {
      if (came_from[next] == count && linked(node, next)) {
        came_from[next] = node;
        waiting.push_back(next);
      }
    }
  }
  std::vector<ChainLink> chain;
  for (std::size_t node = from; came_from[node] != count; node = came_from[node]) {
    using enum ChainLink::What;
    chain.push_back(node < zones                ? ChainLink{zone, node}
                    : node < zones + collectors ? ChainLink{collector, node - zones}
                                                : ChainLink{join, node - zones - collectors});
    if (node == to) {
      break;
    }
  }
  return chain;
}

ForbiddenRange range_of(const Scene& scene, const Offence& offence, std::int64_t front) {
  ForbiddenRange range{.why = offence.why,
                       .from_m = metres(front),
                       .to_m = metres(front),
                       .first_zone = offence.first_zone,
                       .second_zone = offence.second_zone,
                       .chain = {}};
  if (offence.why == Conflict::wrong_system) {
    range.chain = {{ChainLink::What::collector, offence.collector},
                   {ChainLink::What::zone, offence.first_zone}};
  } else if (offence.why != Conflict::breaker_closed) {
    range.chain = chain_between(scene, front, offence.first_zone, offence.second_zone);
  }
  return range;
}

std::vector<std::vector<std::size_t>> touched_at(const ContactMap& map, std::int64_t front) {
  std::vector<std::vector<std::size_t>> touched(map.collectors);
  for (std::size_t collector = 0; collector < map.collectors; ++collector) {
    for (std::size_t zone = 0; zone < map.zones; ++zone) {
      if (map.touches(collector, zone, front)) {
        touched[collector].push_back(zone);
      }
    }
  }
  return touched;
}

/// As the sets were left by `join_at`.
std::vector<JoinedZones> joined_in(const ContactMap& map, JoinedSets& sets) {
  std::vector<JoinedZones> joined;
  for (std::size_t zone = 0; zone < map.zones; ++zone) {
    if (sets.find(zone) != zone) {
      continue;  // the least zone of a set stands for it
    }
    JoinedZones group;
    for (std::size_t other = zone; other < map.zones; ++other) {
      if (sets.find(other) == zone) {
        group.zones.push_back(other);
      }
    }
    if (group.zones.size() < 2) {
      continue;
    }
    for (std::size_t collector = 0; collector < map.collectors; ++collector) {
      if (sets.find(map.zones + collector) == zone) {
        group.collectors.push_back(collector);
      }
    }
    joined.push_back(std::move(group));
  }
  return joined;
}

/// A stage that touches the same as its neighbour is one with it.
void add_stage(std::vector<SweptStage>& stages, SweptStage stage) {
  if (!stages.empty() && stages.back().touched == stage.touched) {
    stages.back().to_m = stage.to_m;
    stages.back().includes_to = stage.includes_to;
  } else {
    stages.push_back(std::move(stage));
  }
}

/// Calls `visit(from, to)` for every position and every stretch between two in which nothing
/// changes, in order, until it returns false. A position is a stretch of no length.
template <typename Visit>
void for_each_stretch(const ContactMap& map, const Visit& visit) {
  for (std::size_t i = 0; i < map.events.size(); ++i) {
    if (!visit(map.events[i], map.events[i])) {
      return;
    }
    if (i + 1 < map.events.size() && !visit(map.events[i], map.events[i + 1])) {
      return;
    }
  }
}

}  // namespace

RaisedCollectors known_of(const RaisedCollectors& raised) {
  RaisedCollectors known = raised;
  std::erase_if(known.joins, [](const HighVoltageJoin& join) { return join.only_possible; });
  return known;
}

std::string_view words_for(Conflict conflict) {
  switch (conflict) {
    case Conflict::phases_joined:
      return "joins two phases";
    case Conflict::systems_joined:
      return "joins two systems";
    case Conflict::live_to_earth:
      return "joins a live zone with earth";
    case Conflict::wrong_system:
      return "puts a pantograph on a system that it is not for";
    case Conflict::breaker_closed:
      return "is within the section with the main circuit breaker closed";
  }
  return {};
}

Sweep sweep(std::span<const SeparationZone> zones, const RaisedCollectors& raised,
            BreakerAt breaker) {
  Sweep swept;
  const ContactMap map = contact_map(zones, raised.collectors);
  const Scene scene{zones, raised, breaker, map};
  JoinedSets sets;
  std::vector<Offence> open_offences;  // those whose range the stretch before has reached
  std::vector<std::size_t> open_ranges;
  for_each_stretch(map, [&](std::int64_t from, std::int64_t to) {
    const std::int64_t middle = from + (to - from) / 2;
    std::vector<Offence> offences;
    look_at(scene, middle, sets, [&](const Offence& offence) {
      offences.push_back(offence);
      return true;
    });
    add_stage(swept.stages, {.from_m = metres(from),
                             .to_m = metres(to),
                             .includes_from = from == to,
                             .includes_to = from == to,
                             .touched = touched_at(map, middle),
                             .joined = joined_in(map, sets)});
    std::vector<std::size_t> ranges;
    for (const Offence& offence : offences) {
      const auto before = std::ranges::find(open_offences, offence);
      if (before == open_offences.end()) {
        ranges.push_back(swept.forbidden.size());
        swept.forbidden.push_back(range_of(scene, offence, middle));
        swept.forbidden.back().from_m = metres(from);
      } else {
        ranges.push_back(open_ranges[static_cast<std::size_t>(before - open_offences.begin())]);
      }
      // What holds between two positions holds at both, for touching includes its ends.
      swept.forbidden[ranges.back()].to_m = metres(to);
    }
    open_offences = std::move(offences);
    open_ranges = std::move(ranges);
    return true;
  });
  return swept;
}

bool passes(std::span<const SeparationZone> zones, const RaisedCollectors& raised,
            BreakerAt breaker) {
  const ContactMap map = contact_map(zones, raised.collectors);
  const Scene scene{zones, raised, breaker, map};
  JoinedSets sets;
  bool clean = true;
  for_each_stretch(map, [&](std::int64_t from, std::int64_t to) {
    // What is touched between two positions is touched at both; only the breaker asks for what is
    // not touched.
    if (from == to || breaker == BreakerAt::closed_against_rule) {
      look_at(scene, from + (to - from) / 2, sets,
              [&clean](const Offence&) { return clean = false; });
    }
    return clean;
  });
  return clean;
}

std::optional<DecidingMoment> deciding_moment(std::span<const SeparationZone> zones,
                                              const RaisedCollectors& raised) {
  JoinedSets sets;
  const auto first_offence = [&](std::int64_t longer) -> std::optional<ForbiddenRange> {
    const ContactMap map = contact_map(zones, raised.collectors, longer);
    const Scene scene{zones, raised, BreakerAt::open, map};
    std::optional<ForbiddenRange> first;
    for (const std::int64_t front : map.events) {
      look_at(scene, front, sets, [&](const Offence& offence) {
        first = range_of(scene, offence, front);
        return false;
      });
      if (first) {
        break;
      }
    }
    return first;
  };
  if (auto now = first_offence(0)) {
    return DecidingMoment{.front_m = now->from_m, .reserve_m = 0, .what = std::move(*now)};
  }
  // Strips that reach over all of the train and the section join all that can be joined.
  std::int64_t enough = half_micrometres(1);
  for (const SeparationZone& zone : zones) {
    for (const double end_m : {zone.from_m, zone.to_m}) {
      enough += std::isfinite(end_m) ? 2 * std::abs(half_micrometres(end_m)) : 0;
    }
  }
  for (const Collector& collector : raised.collectors) {
    enough += 2 * std::abs(half_micrometres(collector.behind_front_m));
  }
  auto moment = first_offence(enough);
  if (!moment) {
    return std::nullopt;
  }
  std::int64_t without = 0;
  while (enough - without > 1) {
    const std::int64_t half = without + (enough - without) / 2;
    if (auto found = first_offence(half)) {
      moment = std::move(found);
      enough = half;
    } else {
      without = half;
    }
  }
  return DecidingMoment{
      .front_m = moment->from_m, .reserve_m = metres(enough), .what = std::move(*moment)};
}

}  // namespace panup
