/// Ways through random networks: a route that was taken apart into lines, some of them turned
/// round, is put together again as it was, and a driver who obeys does nothing wrong on it, nor on
/// the way back, nor on a way that turns back along its own line.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "dense_route.h"
#include "driving/drive.h"
#include "line/compose_route.h"
#include "sanitized.h"

namespace panup {

namespace {

using scenario::Scenario;

constexpr std::uint64_t number_of_networks = sanitized ? 10 : 200;

double to_mm(double km) { return std::round(km * 1e6) / 1e6; }

/// A little mirror of its own: what lies along a stretch of a track, by kilometres that run from
/// `begins_km` on, rising or falling. It knows nothing of how ways are composed.
class Mirror {
 public:
  Mirror(double from_km, double to_km, double begins_km, bool turned)
      : from_km_(from_km), to_km_(to_km), begins_km_(begins_km), turned_(turned) {}

  double km(double at_km) const {
    return to_mm(begins_km_ + (turned_ ? to_km_ - at_km : at_km - from_km_));
  }

  Route of(const Route& route) const {
    Route seen;
    for (const Section& section : route.sections) {
      if (section.to_km > from_km_ && section.from_km < to_km_) {
        Section one = section;
        place(std::max(section.from_km, from_km_), std::min(section.to_km, to_km_), one);
        if (turned_) {
          for (SpanType& span : one.spans) {
            span.stagger_m = {span.stagger_m[1], span.stagger_m[0]};
          }
        }
        seen.sections.push_back(one);
      }
    }
    for (const SeparationSection& separation : route.separations) {
      const double ends_km = separation.from_km + separation.length_m / 1000;
      if (separation.from_km >= from_km_ - 1e-9 && ends_km <= to_km_ + 1e-9) {
        SeparationSection one = separation;
        one.from_km = km(turned_ ? ends_km : separation.from_km);
        if (turned_) {
          one.zones.assign(separation.zones.rbegin(), separation.zones.rend());
          for (SeparationZone& zone : one.zones) {
            const SeparationZone was = zone;
            zone.from_m = separation.length_m - was.to_m;
            zone.to_m = separation.length_m - was.from_m;
          }
        }
        seen.separations.push_back(one);
      }
    }
    for (const LoweredStretch& stretch : route.lowered) {
      if (stretch.from_km >= from_km_ && stretch.to_km <= to_km_) {
        LoweredStretch one = stretch;
        place(stretch.from_km, stretch.to_km, one);
        seen.lowered.push_back(one);
      }
    }
    for (const Gradient& gradient : route.gradients) {
      const double from = std::max(gradient.from_km, from_km_);
      const double to = std::min(gradient.to_km, to_km_);
      if (to > from) {
        Gradient one = gradient;
        place(from, to, one);
        one.permille = turned_ ? -gradient.permille : gradient.permille;
        seen.gradients.push_back(one);
      }
    }
    for (const SectionInsulator& insulator : route.section_insulators) {
      if (insulator.at_km >= from_km_ && insulator.at_km <= to_km_) {
        seen.section_insulators.push_back(insulator);
        seen.section_insulators.back().at_km = km(insulator.at_km);
      }
    }
    for (const Landmark& landmark : route.landmarks) {
      if (landmark.at_km >= from_km_ && landmark.at_km <= to_km_) {
        seen.landmarks.push_back(landmark);
        seen.landmarks.back().at_km = km(landmark.at_km);
      }
    }
    const auto rising = [](auto& list, auto key) { std::ranges::stable_sort(list, {}, key); };
    rising(seen.sections, &Section::from_km);
    rising(seen.separations, &SeparationSection::from_km);
    rising(seen.lowered, &LoweredStretch::from_km);
    rising(seen.gradients, &Gradient::from_km);
    rising(seen.section_insulators, &SectionInsulator::at_km);
    rising(seen.landmarks, &Landmark::at_km);
    return seen;
  }

 private:
  template <typename Stretch>
  void place(double from, double to, Stretch& stretch) const {
    stretch.from_km = km(turned_ ? to : from);
    stretch.to_km = km(turned_ ? from : to);
  }

  double from_km_;
  double to_km_;
  double begins_km_;
  bool turned_;
};

/// A network and the way through it that is a route.
struct TakenApart {
  Network network;
  NetworkWay way;
  std::vector<WayStop> stops;
};

bool is_within_a_stretch(const Route& route, double km) {
  return std::ranges::any_of(route.separations,
                             [km](const SeparationSection& separation) {
                               const SeparationExtent extent = extent_of(separation);
                               return extent.from_km < km && km < extent.to_km;
                             }) ||
         std::ranges::any_of(route.lowered, [km](const LoweredStretch& stretch) {
           return stretch.from_km < km && km < stretch.to_km;
         });
}

/// Whether something would be lost if the route were cut there: a board away from what it is for.
bool parts_boards(const Route& route, double km) {
  return std::ranges::any_of(route.landmarks, [&](const Landmark& landmark) {
    const auto separation =
        std::ranges::find(route.separations, landmark.board_of, &SeparationSection::name);
    const auto lowered = std::ranges::find(route.lowered, landmark.board_of, &LoweredStretch::name);
    const double at = separation != route.separations.end() ? separation->from_km
                      : lowered != route.lowered.end()      ? lowered->from_km
                                                            : landmark.at_km;
    return std::min(at, landmark.at_km) <= km && km <= std::max(at, landmark.at_km);
  });
}

/// Cuts a route at its reversals and at some of its stops into lines of which every other is
/// turned round; their kilometres begin anywhere.
std::optional<TakenApart> take_apart(const Route& route, std::uint64_t seed) {
  std::mt19937_64 bits(seed);
  TakenApart apart;
  apart.network.id = "n";
  apart.way.id = "w";
  apart.way.from = "p0";
  std::vector<double> cuts{route.sections.front().from_km};
  for (const Stop& stop : route.stops) {
    const bool inner = stop.at_km > cuts.front() && stop.at_km < route.sections.back().to_km - 1e-6;
    if (!inner) {
      continue;
    }
    const bool cut = stop.reversal || bits() % 2 == 0;
    if (cut && (is_within_a_stretch(route, stop.at_km) || parts_boards(route, stop.at_km))) {
      return std::nullopt;
    }
    if (cut) {
      cuts.push_back(stop.at_km);
    }
  }
  cuts.push_back(route.sections.back().to_km);
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    apart.network.places.push_back(
        {.id = fmt::format("p{}", i), .name = fmt::format("p{}", i), .on = {}, .place = {}});
  }
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const bool turned = bits() % 2 == 0;
    // A way along one line by rising kilometres has them for its chainage.
    const auto anywhere = static_cast<double>(bits() % 300);
    const bool own_kilometres = cuts.size() == 2 && !turned;
    const Mirror mirror(cuts[i], cuts[i + 1], own_kilometres ? cuts[i] : anywhere, turned);
    NetworkLine line{.id = fmt::format("l{}", i),
                     .name = "",
                     .track = mirror.of(route),
                     .falling_landmarks = {},
                     .place = {}};
    for (Section& section : line.track.sections) {
      section.line = line.id;
    }
    if (turned) {
      line.falling_landmarks = std::move(line.track.landmarks);
      line.track.landmarks.clear();
    }
    for (const std::size_t end : {i, i + 1}) {
      apart.network.places[end].on.push_back({line.id, mirror.km(cuts[end])});
    }
    for (const Stop& stop : route.stops) {
      if (stop.at_km > cuts[i] && stop.at_km < cuts[i + 1]) {
        apart.network.places.push_back({.id = stop.name,
                                        .name = stop.name,
                                        .on = {{line.id, mirror.km(stop.at_km)}},
                                        .place = {}});
        apart.stops.push_back({.at = stop.name, .place = {}});
      } else if (stop.at_km == cuts[i + 1]) {
        apart.network.places[i + 1].name = stop.name;
        apart.stops.push_back({.at = fmt::format("p{}", i + 1),
                               .reversal = stop.reversal,
                               .new_front_behind_m = 300,
                               .place = {}});
      }
    }
    apart.way.legs.push_back(
        {.line = line.id, .to = fmt::format("p{}", i + 1), .line_place = {}, .to_place = {}});
    apart.network.lines.push_back(std::move(line));
  }
  return apart;
}

void expect_same_place(double a, double b, const std::string& what) {
  EXPECT_NEAR(a, b, 2e-6) << what;
}

void expect_same(const Route& made, const Route& wanted) {
  ASSERT_EQ(made.separations.size(), wanted.separations.size());
  for (std::size_t i = 0; i < wanted.separations.size(); ++i) {
    const SeparationSection& one = made.separations[i];
    const SeparationSection& other = wanted.separations[i];
    EXPECT_EQ(one.name, other.name);
    expect_same_place(one.from_km, other.from_km, other.name);
    EXPECT_EQ(one.length_m, other.length_m);
    EXPECT_EQ(one.pantograph_lowered, other.pantograph_lowered);
    ASSERT_EQ(one.zones.size(), other.zones.size());
    for (std::size_t z = 0; z < other.zones.size(); ++z) {
      EXPECT_EQ(one.zones[z].kind, other.zones[z].kind);
      EXPECT_EQ(one.zones[z].phase, other.zones[z].phase);
      if (std::isfinite(other.zones[z].from_m)) {
        EXPECT_NEAR(one.zones[z].from_m, other.zones[z].from_m, 1e-6);
      }
      if (std::isfinite(other.zones[z].to_m)) {
        EXPECT_NEAR(one.zones[z].to_m, other.zones[z].to_m, 1e-6);
      }
    }
  }
  ASSERT_EQ(made.lowered.size(), wanted.lowered.size());
  for (std::size_t i = 0; i < wanted.lowered.size(); ++i) {
    EXPECT_EQ(made.lowered[i].name, wanted.lowered[i].name);
    expect_same_place(made.lowered[i].from_km, wanted.lowered[i].from_km, "lowered");
    expect_same_place(made.lowered[i].to_km, wanted.lowered[i].to_km, "lowered");
  }
  ASSERT_EQ(made.landmarks.size(), wanted.landmarks.size());
  for (std::size_t i = 0; i < wanted.landmarks.size(); ++i) {
    EXPECT_EQ(made.landmarks[i].name, wanted.landmarks[i].name);
    EXPECT_EQ(made.landmarks[i].board, wanted.landmarks[i].board);
    EXPECT_EQ(made.landmarks[i].change_on_the_move, wanted.landmarks[i].change_on_the_move);
    expect_same_place(made.landmarks[i].at_km, wanted.landmarks[i].at_km, "landmark");
  }
  // Those that were cut stand behind each other.
  double covered_km = 0;
  for (const Gradient& one : made.gradients) {
    covered_km += one.to_km - one.from_km;
  }
  for (const Gradient& gradient : wanted.gradients) {
    covered_km -= gradient.to_km - gradient.from_km;
    for (const Gradient& one : made.gradients) {
      if (one.from_km < gradient.to_km - 1e-5 && one.to_km > gradient.from_km + 1e-5) {
        EXPECT_EQ(one.permille, gradient.permille) << one.from_km;
      }
    }
  }
  EXPECT_NEAR(covered_km, 0, 1e-4);
  ASSERT_EQ(made.stops.size(), wanted.stops.size());
  for (std::size_t i = 0; i < wanted.stops.size(); ++i) {
    EXPECT_EQ(made.stops[i].name, wanted.stops[i].name);
    EXPECT_EQ(made.stops[i].reversal, wanted.stops[i].reversal);
    expect_same_place(made.stops[i].at_km, wanted.stops[i].at_km, "stop");
  }
  // Sections that were cut stand behind each other; all of them together have the same properties.
  for (const Section& section : wanted.sections) {
    for (const Section& one : made.sections) {
      const bool overlaps =
          one.from_km < section.to_km - 1e-5 && one.to_km > section.from_km + 1e-5;
      if (overlaps) {
        EXPECT_EQ(one.id, section.id);
        EXPECT_EQ(static_cast<const LineProperties&>(one),
                  static_cast<const LineProperties&>(section));
      }
    }
  }
  expect_same_place(made.sections.front().from_km, wanted.sections.front().from_km, "begin");
  expect_same_place(made.sections.back().to_km, wanted.sections.back().to_km, "end");
  for (std::size_t i = 1; i < made.sections.size(); ++i) {
    EXPECT_EQ(made.sections[i].from_km, made.sections[i - 1].to_km) << "sections join";
  }
}

/// Route and way counted from 0, with gradients on all of it, and separation zones here and there.
Scenario any_route(std::uint64_t seed) {
  Scenario any = dense_route(seed);
  Route& route = any.request.route;
  std::mt19937_64 bits(seed * 7919);
  for (double km = 0; km < route.sections.back().to_km; km += 2) {
    route.gradients.push_back({.from_km = km,
                               .to_km = std::min(km + 2, route.sections.back().to_km),
                               .permille = static_cast<double>(bits() % 9) - 4,
                               .place = {}});
  }
  for (SeparationSection& separation : route.separations) {
    if (separation.kind == SeparationKind::phase && bits() % 2 == 0) {
      separation.zones = {
          scenario::zone(ZoneKind::live, -scenario::endless, 0, "R"),
          scenario::zone(ZoneKind::neutral, 0, separation.length_m - 5),
          scenario::zone(ZoneKind::live, separation.length_m - 8, scenario::endless, "S")};
    }
  }
  std::erase_if(route.stops, [&](const Stop& stop) {
    return stop.at_km <= route.sections.front().from_km ||
           stop.at_km >= route.sections.back().to_km;
  });
  return any;
}

/// Plans and drives; how many of the plans say no is counted.
void expect_no_fault(const Scenario& driven, std::uint64_t seed, int& planned, int& refused) {
  if (!cross_check(driven.request).empty()) {
    return;
  }
  const Plan plan = driven.plan();
  ++planned;
  refused += plan.answer == Answer::none ? 1 : 0;
  for (const DrivenFault& fault : drive(plan, driven_rules(driven.request.rules))) {
    ADD_FAILURE() << "network " << seed << ", km " << fault.at_km << ": " << fault.what;
  }
}

TEST(AWayThroughANetwork, IsTheRouteThatWasTakenApart) {
  int compared = 0;
  int planned = 0;
  int refused = 0;
  for (std::uint64_t seed = 1; seed <= number_of_networks; ++seed) {
    Scenario any = any_route(seed);
    const auto apart = take_apart(any.request.route, seed);
    if (!apart) {
      continue;
    }
    Diagnostics said;
    const auto made = compose_route(apart->network, apart->way, apart->stops, said);
    ASSERT_TRUE(made) << seed << ": " << (said.empty() ? "" : said.front().text);
    ++compared;
    SCOPED_TRACE(seed);
    expect_same(made->route, any.request.route);
    any.request.route = made->route;
    expect_no_fault(any, seed, planned, refused);
  }
  EXPECT_GT(compared, static_cast<int>(number_of_networks) / 4);
  EXPECT_GT(planned, compared * 3 / 4);
  EXPECT_LT(refused, planned / 2 + 1) << "a plan that says no is easy to obey";
}

/// A line whose marks hold for both directions but for boards, which stand on either side.
Network one_line(const Route& route) {
  Network network;
  network.id = "n";
  NetworkLine line{.id = "1", .name = "", .track = route, .falling_landmarks = {}, .place = {}};
  line.track.stops.clear();
  for (Section& section : line.track.sections) {
    section.line = "1";
  }
  for (Landmark landmark : route.landmarks) {
    for (const SeparationSection& separation : route.separations) {
      if (landmark.board && landmark.board_of == separation.name) {
        const SeparationExtent extent = extent_of(separation);
        landmark.at_km = to_mm(extent.from_km + extent.to_km - landmark.at_km);
      }
    }
    for (const LoweredStretch& stretch : route.lowered) {
      if (landmark.board && landmark.board_of == stretch.name) {
        landmark.at_km = to_mm(stretch.from_km + stretch.to_km - landmark.at_km);
      }
    }
    line.falling_landmarks.push_back(landmark);
  }
  std::ranges::stable_sort(line.falling_landmarks, {}, &Landmark::at_km);
  network.lines.push_back(std::move(line));
  const double to_km = route.sections.back().to_km;
  network.places = {{.id = "a", .name = "A", .on = {{"1", 0}}, .place = {}},
                    {.id = "b", .name = "B", .on = {{"1", to_km}}, .place = {}}};
  return network;
}

TEST(AWayThroughANetwork, BackIsTheRouteInAMirror) {
  int planned = 0;
  int refused = 0;
  for (std::uint64_t seed = 1; seed <= number_of_networks; ++seed) {
    Scenario any = any_route(seed);
    Route& route = any.request.route;
    const double to_km = route.sections.back().to_km;
    const Network network = one_line(route);
    const NetworkWay back{.id = "back",
                          .name = "",
                          .from = "b",
                          .legs = {{.line = "1", .to = "a", .line_place = {}, .to_place = {}}},
                          .from_place = {},
                          .place = {}};
    Diagnostics said;
    const auto made = compose_route(network, back, {}, said);
    ASSERT_TRUE(made) << seed << ": " << (said.empty() ? "" : said.front().text);
    Route from_behind = route;
    from_behind.landmarks = network.lines.front().falling_landmarks;
    std::erase_if(from_behind.landmarks, [to_km](const Landmark& landmark) {
      return landmark.at_km < 0 || landmark.at_km > to_km;
    });
    SCOPED_TRACE(seed);
    expect_same(made->route, Mirror(0, to_km, 0, true).of(from_behind));
    const auto post = place_on_line(made->route, to_km / 4);
    ASSERT_TRUE(post);
    EXPECT_NEAR(post->at_km, to_km * 3 / 4, 2e-6);
    route = made->route;
    expect_no_fault(any, seed, planned, refused);
  }
  EXPECT_GT(planned, static_cast<int>(number_of_networks) * 3 / 4);
  EXPECT_LT(refused, planned / 2) << "a plan that says no is easy to obey";
}

TEST(AWayThroughANetwork, ThatTurnsBackIsObeyedWithoutFault) {
  int planned = 0;
  int refused = 0;
  for (std::uint64_t seed = 1; seed <= number_of_networks; ++seed) {
    Scenario any = any_route(seed);
    const Network network = one_line(any.request.route);
    const NetworkWay way{.id = "out-and-back",
                         .name = "",
                         .from = "a",
                         .legs = {{.line = "1", .to = "b", .line_place = {}, .to_place = {}},
                                  {.line = "1", .to = "a", .line_place = {}, .to_place = {}}},
                         .from_place = {},
                         .place = {}};
    const double train_m = length_m(any.request.train);
    Diagnostics said;
    const auto made = compose_route(
        network, way, {{.at = "b", .reversal = true, .new_front_behind_m = train_m, .place = {}}},
        said);
    if (!made) {
      continue;  // it would stand with its front in a separation section
    }
    const double to_km = any.request.route.sections.back().to_km;
    EXPECT_NEAR(made->route.sections.back().to_km, 2 * to_km - train_m / 1000, 2e-6);
    const auto post = place_on_line(made->route, to_km + 1);
    ASSERT_TRUE(post);
    EXPECT_NEAR(post->at_km, to_km - train_m / 1000 - 1, 2e-6)
        << "the new front stands where the rear was";
    any.request.route = made->route;
    expect_no_fault(any, seed, planned, refused);
  }
  EXPECT_GT(planned, static_cast<int>(number_of_networks) / 2);
  EXPECT_LT(refused, planned * 3 / 4) << "a plan that says no is easy to obey";
}

}  // namespace

}  // namespace panup
