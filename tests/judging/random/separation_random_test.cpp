#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

#include "judging/facts/separation.h"

/// The exact sweep against plain simulation: the train is moved on in steps of a few millimetres,
/// and to just before, at and just behind every place where anything begins or ends to touch. The
/// simulation shares no code with the sweep: it counts in tenths of a millimetre, keeps contacts as
/// bits, and spreads what is joined until nothing more is added.

namespace panup {

namespace {

using Position = std::int64_t;  // tenths of a millimetre
constexpr Position far_away = 100'000'000;
// Sanitizers look for other mistakes, a hundred times slower: a part of the cases serves them.
#ifdef PANUP_SANITIZED
constexpr int number_of_cases = 500;
#else
constexpr int number_of_cases = 10'000;
#endif
constexpr std::size_t most_heads = 5;
constexpr std::size_t most_zones = 8;

struct SimulatedZone {
  ZoneKind kind{};
  Position from = 0;
  Position to = 0;
  int identity = 0;  // live: phase
  int system = 0;    // live
};

struct SimulatedHead {
  Position behind = 0;
  Position half_extent = 0;
  unsigned systems = 0;
};

struct Case {
  std::vector<SimulatedZone> zones;
  std::vector<SimulatedHead> heads;
  std::vector<unsigned> joins;  // bits of heads
  bool breaker_closed = false;
};

struct Joined {
  unsigned zones = 0;
  unsigned heads = 0;
  friend bool operator==(const Joined&, const Joined&) = default;
};

/// What the simulation sees at one position.
struct Seen {
  std::array<unsigned, most_heads> touched{};   // by head: bits of zones
  std::array<Joined, most_zones / 2> joined{};  // of two zones and more; the rest is empty
  unsigned conflicts = 0;                       // bits of `Conflict`
};

Seen simulate(const Case& of, Position front) {
  Seen seen;
  for (std::size_t h = 0; h < of.heads.size(); ++h) {
    const SimulatedHead& head = of.heads[h];
    unsigned touched = 0;
    for (std::size_t z = 0; z < of.zones.size(); ++z) {
      const SimulatedZone& zone = of.zones[z];
      if (zone.kind != ZoneKind::insulator && front - head.behind + head.half_extent >= zone.from &&
          front - head.behind - head.half_extent <= zone.to) {
        touched |= 1U << z;
      }
    }
    seen.touched[h] = touched;
  }
  unsigned done = 0;
  std::size_t groups = 0;
  for (std::size_t z = 0; z < of.zones.size(); ++z) {
    if ((done >> z & 1U) != 0) {
      continue;
    }
    Joined group{.zones = 1U << z, .heads = 0};
    for (Joined before{}; before != group;) {
      before = group;
      for (std::size_t h = 0; h < of.heads.size(); ++h) {
        if ((seen.touched[h] & group.zones) != 0) {
          group.heads |= 1U << h;
        }
        if ((group.heads >> h & 1U) != 0) {
          group.zones |= seen.touched[h];
        }
      }
      for (const unsigned join : of.joins) {
        group.heads |= (join & group.heads) != 0 ? join : 0;
      }
    }
    done |= group.zones;
    if (std::popcount(group.zones) > 1) {
      seen.joined[groups++] = group;
    }
    unsigned systems = 0;
    unsigned phases[3] = {0, 0, 0};
    bool earth = false;
    for (std::size_t member = 0; member < of.zones.size(); ++member) {
      const SimulatedZone& zone = of.zones[member];
      if ((group.zones >> member & 1U) == 0) {
        continue;
      }
      earth |= zone.kind == ZoneKind::earthed;
      if (zone.kind == ZoneKind::live) {
        systems |= 1U << zone.system;
        phases[zone.system] |= 1U << zone.identity;
      }
    }
    const auto set = [&seen](Conflict why) { seen.conflicts |= 1U << static_cast<unsigned>(why); };
    if (std::popcount(systems) > 1) {
      set(Conflict::systems_joined);
    }
    if (std::ranges::any_of(phases,
                            [](unsigned of_system) { return std::popcount(of_system) > 1; })) {
      set(Conflict::phases_joined);
    }
    if (systems != 0 && earth) {
      set(Conflict::live_to_earth);
    }
  }
  bool all_before = true;
  bool all_behind = true;
  for (std::size_t h = 0; h < of.heads.size(); ++h) {
    all_before &= seen.touched[h] == 1U;
    all_behind &= seen.touched[h] == 1U << (of.zones.size() - 1);
    for (std::size_t z = 0; z < of.zones.size(); ++z) {
      if ((seen.touched[h] >> z & 1U) != 0 && of.zones[z].kind == ZoneKind::live &&
          (of.heads[h].systems >> of.zones[z].system & 1U) == 0) {
        seen.conflicts |= 1U << static_cast<unsigned>(Conflict::wrong_system);
      }
    }
  }
  if (of.breaker_closed && !all_before && !all_behind) {
    seen.conflicts |= 1U << static_cast<unsigned>(Conflict::breaker_closed);
  }
  return seen;
}

class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}
  Position whole(Position least, Position greatest) {
    const auto span = static_cast<std::uint64_t>(greatest - least) + 1;
    return least + static_cast<Position>(engine_() % span);
  }
  bool once_in(unsigned count) { return engine_() % count == 0; }

 private:
  std::mt19937_64 engine_;
};

/// Lengths of whole decimetres make ends meet exactly, whole tenths of a millimetre nearly.
Position length(Random& random, Position least_mm, Position greatest_mm, bool coarse) {
  return coarse ? 1000 * random.whole((least_mm + 99) / 100, greatest_mm / 100)
                : random.whole(10 * least_mm, 10 * greatest_mm);
}

Case random_case(Random& random) {
  Case made;
  const bool coarse = random.once_in(2);
  const bool systems = random.once_in(3);
  const auto live = [&](Position from, Position to) {
    made.zones.push_back({.kind = ZoneKind::live,
                          .from = from,
                          .to = to,
                          .identity = static_cast<int>(random.whole(0, 2)),
                          .system = systems ? static_cast<int>(random.whole(0, 2)) : 0});
  };
  live(-far_away, 0);
  const Position inner = random.whole(0, 5);  // with the live ones at most 7 of `most_zones`
  for (Position i = 0; i < inner; ++i) {
    const SimulatedZone& last = made.zones.back();
    const bool first = made.zones.size() == 1;
    if (last.kind != ZoneKind::insulator && random.once_in(4)) {
      made.zones.push_back({.kind = ZoneKind::insulator,
                            .from = last.to,
                            .to = last.to + length(random, 100, 1500, coarse)});
      continue;
    }
    Position from = last.to;
    if (last.kind != ZoneKind::insulator && !random.once_in(4)) {
      const Position room = first ? 20'000 : last.to - last.from - 1000;
      from -= std::min(room, length(random, 100, 2000, coarse));
    }
    const Position to = std::max(last.to, from) + length(random, 100, 6000, coarse);
    if (random.once_in(6)) {
      live(from, to);
    } else {
      made.zones.push_back({.kind = random.once_in(3) ? ZoneKind::earthed : ZoneKind::neutral,
                            .from = from,
                            .to = to});
    }
  }
  const SimulatedZone last = made.zones.back();
  const Position room = made.zones.size() == 1 ? 20'000 : last.to - last.from - 1000;
  const bool overlaps = last.kind != ZoneKind::insulator && !random.once_in(3);
  live(last.to - (overlaps ? std::min(room, length(random, 100, 2000, coarse)) : 0), far_away);

  const Position count = random.whole(1, 5);
  Position behind = length(random, 1000, 4000, coarse);
  for (Position h = 0; h < count; ++h) {
    made.heads.push_back({.behind = behind,
                          .half_extent = coarse ? 500 * random.whole(0, 8) : random.whole(0, 4000),
                          .systems = random.once_in(6) ? 3U : 7U});
    behind += length(random, 500, 8000, coarse);
  }
  for (Position j = random.whole(0, 2); j > 0 && count > 1; --j) {
    unsigned join = 0;
    for (Position h = 0; h < count; ++h) {
      join |= random.once_in(2) ? 1U << h : 0U;
    }
    if (std::popcount(join) > 1) {
      made.joins.push_back(join);
    }
  }
  made.breaker_closed = random.once_in(8);
  return made;
}

double in_metres(Position position) {
  return position <= -far_away  ? -std::numeric_limits<double>::infinity()
         : position >= far_away ? std::numeric_limits<double>::infinity()
                                : static_cast<double>(position) / 10'000;
}

constexpr EnergySupply systems_of_numbers[] = {EnergySupply::ac_15kv, EnergySupply::ac_25kv,
                                               EnergySupply::dc_3kv};

std::vector<SeparationZone> zones_of(const Case& of) {
  std::vector<SeparationZone> zones;
  for (const SimulatedZone& zone : of.zones) {
    zones.push_back({.kind = zone.kind,
                     .from_m = in_metres(zone.from),
                     .to_m = in_metres(zone.to),
                     .phase = zone.kind == ZoneKind::live ? std::string(1, "RST"[zone.identity])
                                                          : std::string(),
                     .supply = zone.kind == ZoneKind::live
                                   ? std::optional(systems_of_numbers[zone.system])
                                   : std::nullopt,
                     .place = {}});
  }
  return zones;
}

RaisedCollectors collectors_of(const Case& of) {
  RaisedCollectors raised;
  for (const SimulatedHead& head : of.heads) {
    Collector collector{.ref = {.vehicle = 1, .pantograph = 1},
                        .behind_front_m = in_metres(head.behind),
                        .strip_extent_m = in_metres(2 * head.half_extent),
                        .fit_for = {}};
    for (std::size_t system = 0; system < 3; ++system) {
      if ((head.systems >> system & 1U) != 0) {
        collector.fit_for.push_back(systems_of_numbers[system]);
      }
    }
    raised.collectors.push_back(std::move(collector));
  }
  for (const unsigned join : of.joins) {
    HighVoltageJoin conductor;
    for (std::size_t h = 0; h < of.heads.size(); ++h) {
      if ((join >> h & 1U) != 0) {
        conductor.collectors.push_back(h);
      }
    }
    raised.joins.push_back(std::move(conductor));
  }
  return raised;
}

unsigned bits(const std::vector<std::size_t>& indices) {
  unsigned set = 0;
  for (const std::size_t index : indices) {
    set |= 1U << index;
  }
  return set;
}

/// A position of the sweep in tenths of a millimetre: all that the cases are made of are such.
Position in_tenths(double metres) { return std::llround(metres * 10'000); }

/// The sweep's ranges with positions as whole numbers.
struct Range {
  Position from = 0;
  Position to = 0;
  Conflict why{};
  mutable bool witnessed = false;
};

struct Places {
  std::vector<Position> events;
  Position first = 0;
  Position last = 0;
};

Places places_of(const Case& of) {
  Places places;
  for (const SimulatedHead& head : of.heads) {
    for (const SimulatedZone& zone : of.zones) {
      if (zone.kind == ZoneKind::insulator) {
        continue;
      }
      if (zone.from > -far_away) {
        places.events.push_back(zone.from + head.behind - head.half_extent);
      }
      if (zone.to < far_away) {
        places.events.push_back(zone.to + head.behind + head.half_extent);
      }
    }
  }
  std::ranges::sort(places.events);
  places.first = places.events.front();
  places.last = places.events.back();
  return places;
}

void compare(const Case& of, Position step, int number) {
  const Sweep swept = sweep(zones_of(of), collectors_of(of),
                            of.breaker_closed ? BreakerAt::closed_against_rule : BreakerAt::open);
  ASSERT_EQ(swept.passes(),
            passes(zones_of(of), collectors_of(of),
                   of.breaker_closed ? BreakerAt::closed_against_rule : BreakerAt::open))
      << "case " << number;
  std::vector<Range> ranges;
  for (const ForbiddenRange& forbidden : swept.forbidden) {
    ranges.push_back({in_tenths(forbidden.from_m), in_tenths(forbidden.to_m), forbidden.why});
  }
  const Places places = places_of(of);
  ASSERT_EQ(in_tenths(swept.stages.front().from_m), places.first) << "case " << number;
  ASSERT_EQ(in_tenths(swept.stages.back().to_m), places.last) << "case " << number;

  std::vector<Seen> stages;
  for (const SweptStage& now : swept.stages) {
    Seen& stage = stages.emplace_back();
    std::ranges::transform(now.touched, stage.touched.begin(), bits);
    std::ranges::transform(now.joined, stage.joined.begin(), [](const JoinedZones& group) {
      return Joined{bits(group.zones), bits(group.collectors)};
    });
  }
  std::size_t stage = 0;
  const auto check = [&](Position front) {
    while (stage + 1 < stages.size() &&
           (in_tenths(swept.stages[stage].to_m) < front ||
            (in_tenths(swept.stages[stage].to_m) == front && !swept.stages[stage].includes_to))) {
      ++stage;
    }
    const Seen seen = simulate(of, front);
    unsigned conflicts = 0;
    for (const Range& range : ranges) {
      if (range.from <= front && front <= range.to) {
        conflicts |= 1U << static_cast<unsigned>(range.why);
      }
      if (front >= range.from - 1 && front <= range.to + 1 &&
          (seen.conflicts >> static_cast<unsigned>(range.why) & 1U) != 0) {
        range.witnessed = true;
      }
    }
    // The breaker's range may leave out its own ends, where a strip still just touches live wire.
    const unsigned breaker = 1U << static_cast<unsigned>(Conflict::breaker_closed);
    ASSERT_EQ(conflicts & ~breaker, seen.conflicts & ~breaker)
        << "case " << number << " at " << front;
    ASSERT_EQ(seen.conflicts & breaker & ~conflicts, 0U) << "case " << number << " at " << front;
    ASSERT_TRUE(stages[stage].touched == seen.touched) << "case " << number << " at " << front;
    ASSERT_TRUE(stages[stage].joined == seen.joined) << "case " << number << " at " << front;
  };
  std::vector<Position> fronts;
  for (Position front = places.first; front <= places.last; front += step) {
    fronts.push_back(front);
  }
  for (const Position event : places.events) {
    for (const Position beside : {event - 1, event, event + 1}) {
      if (beside >= places.first && beside <= places.last) {
        fronts.push_back(beside);
      }
    }
  }
  std::ranges::sort(fronts);
  for (const Position front : fronts) {
    check(front);
    if (testing::Test::HasFatalFailure()) {
      return;
    }
  }
  for (const Range& range : ranges) {
    ASSERT_TRUE(range.witnessed) << "case " << number << ": a conflict that no simulation sees, "
                                 << words_for(range.why) << " from " << range.from << " to "
                                 << range.to;
  }
}

TEST(Sweep, AgreesWithSimulationOnTenThousandRandomTrainsAndSections) {
  Random random(20'240'611);
  int forbidden = 0;
  int clean = 0;
  for (int number = 0; number < number_of_cases; ++number) {
    const Case made = random_case(random);
    compare(made, random.whole(30, 90), number);
    if (HasFatalFailure()) {
      return;
    }
    const bool passed = passes(zones_of(made), collectors_of(made), BreakerAt::open);
    forbidden += passed ? 0 : 1;
    clean += passed ? 1 : 0;
  }
  // Both answers have to occur, or little has been compared.
  EXPECT_GT(forbidden, number_of_cases / 5);
  EXPECT_GT(clean, number_of_cases / 20);
}

}  // namespace

}  // namespace panup
