#include "files/check_route.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/same_place.h"
#include "line/gradients.h"
#include "line/raised_records.h"

namespace panup {

namespace {

void check_joints(TomlTable& root, const std::vector<Section>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const double gap = sections[i].from_km - sections[i - 1].to_km;
    if (std::abs(gap) > same_place_km) {
      root.report(sections[i].place,
                  fmt::format("section '{}' begins at km {:.9g}, {} where '{}' ends, at km {:.9g}",
                              sections[i].id, sections[i].from_km, gap > 0 ? "after" : "before",
                              sections[i - 1].id, sections[i - 1].to_km));
    }
  }
}

/// A stretch of any kind, to check that it lies within the route and beside the others.
struct Stretch {
  std::string name;
  double from_km = 0;
  double to_km = 0;
  SourcePlace place;
};

void check_inside_route(TomlTable& root, const Track& track, const Stretch& stretch) {
  const Route& route = track.route;
  const double from = route.sections.front().from_km;
  const double to = route.sections.back().to_km;
  if (stretch.from_km < from || stretch.to_km > to + same_place_km) {
    root.report(stretch.place,
                fmt::format("'{}' lies from km {:.9g} to {:.9g}, outside {}, which runs from km "
                            "{:.9g} to {:.9g}",
                            stretch.name, stretch.from_km, stretch.to_km, track.name, from, to));
  }
}

void check_stretches(TomlTable& root, const Track& track) {
  const Route& route = track.route;
  for (const LowPlace& place : route.low_places) {
    check_inside_route(root, track, {place.name, place.from_km, place.to_km, place.place});
  }
  std::vector<Stretch> stretches;
  for (const SeparationSection& separation : route.separations) {
    stretches.push_back({separation.name, separation.from_km,
                         separation.from_km + separation.length_m / 1000, separation.place});
  }
  for (const LoweredStretch& lowered : route.lowered) {
    stretches.push_back({lowered.name, lowered.from_km, lowered.to_km, lowered.place});
  }
  for (const Stretch& stretch : stretches) {
    check_inside_route(root, track, stretch);
  }
  std::ranges::stable_sort(stretches, {}, &Stretch::from_km);
  const Stretch* farthest = nullptr;  // of those before, the one that ends last
  for (const Stretch& stretch : stretches) {
    if (farthest != nullptr && stretch.from_km < farthest->to_km - same_place_km) {
      root.report(stretch.place,
                  fmt::format("'{}' begins at km {:.9g}, within '{}', which ends at km {:.9g}",
                              stretch.name, stretch.from_km, farthest->name, farthest->to_km));
    }
    if (farthest == nullptr || stretch.to_km > farthest->to_km) {
      farthest = &stretch;
    }
  }
}

void check_inside_track(TomlTable& root, const Track& track, const std::string& name, double at_km,
                        const SourcePlace& place) {
  const double from = track.route.sections.front().from_km;
  const double to = track.route.sections.back().to_km;
  if (at_km < from || at_km > to) {
    root.report(place, fmt::format("'{}' at km {:.9g} lies outside {}, which runs from km {:.9g} "
                                   "to {:.9g}",
                                   name, at_km, track.name, from, to));
  }
}

void check_places(TomlTable& root, const Track& track) {
  const Route& route = track.route;
  const double from = route.sections.front().from_km;
  const double to = route.sections.back().to_km;
  const auto check_inside = [&](const std::string& name, double at_km, const SourcePlace& place) {
    check_inside_track(root, track, name, at_km, place);
  };
  for (const Landmark& landmark : route.landmarks) {
    check_inside(landmark.name, landmark.at_km, landmark.place);
  }
  for (const SectionInsulator& insulator : route.section_insulators) {
    check_inside(insulator.name, insulator.at_km, insulator.place);
  }
  for (const Gradient& gradient : route.gradients) {
    if (gradient.from_km < from - same_place_km || gradient.to_km > to + same_place_km) {
      root.report(gradient.place,
                  fmt::format("the gradient lies from km {:.9g} to {:.9g}, outside {}, "
                              "which runs from km {:.9g} to {:.9g}",
                              gradient.from_km, gradient.to_km, track.name, from, to));
    }
  }
  for (std::size_t i = 0; i < route.stops.size(); ++i) {
    const Stop& stop = route.stops[i];
    check_inside(stop.name, stop.at_km, stop.place);
    if (stop.reversal && (stop.at_km == from || stop.at_km == to)) {
      root.report(stop.place, fmt::format("'{}' is at an end of the route; there is nothing to "
                                          "reverse to",
                                          stop.name));
    }
    if (i > 0 && stop.at_km == route.stops[i - 1].at_km) {
      root.report(stop.place, fmt::format("'{}' is at the same place as '{}'", stop.name,
                                          route.stops[i - 1].name));
    }
    for (const LoweredStretch& lowered : route.lowered) {
      if (stop.at_km > lowered.from_km && stop.at_km < lowered.to_km) {
        root.report(stop.place,
                    fmt::format("'{}' lies within '{}', which is passed with pantographs "
                                "down: the train could not start",
                                stop.name, lowered.name));
      }
    }
    for (const SeparationSection& separation : route.separations) {
      if (separation.pantograph_lowered && stop.at_km > separation.from_km &&
          stop.at_km < separation.from_km + separation.length_m / 1000) {
        root.report(stop.place,
                    fmt::format("'{}' lies within '{}', which is passed with pantographs "
                                "down: the train could not start",
                                stop.name, separation.name));
      }
    }
  }
}

void check_systems(TomlTable& root, const Route& route) {
  for (std::size_t i = 1; i < route.sections.size(); ++i) {
    const Section& before = route.sections[i - 1];
    const Section& after = route.sections[i];
    const bool joined = std::abs(after.from_km - before.to_km) <= same_place_km;
    if (!before.supply || !after.supply || before.supply == after.supply || !joined) {
      continue;
    }
    const bool separated =
        std::ranges::any_of(route.separations, [&](const SeparationSection& separation) {
          return separation.kind == SeparationKind::system &&
                 separation.from_km <= after.from_km + same_place_km &&
                 separation.from_km + separation.length_m / 1000 >= after.from_km - same_place_km;
        });
    if (!separated) {
      root.report(
          after.place,
          fmt::format("the energy supply system changes from {} to {} at km {:.9g}, but there is "
                      "no system separation section there",
                      name_of(*before.supply), name_of(*after.supply), after.from_km));
    }
  }
}

/// The live zones at the ends of a separation section are those of the sections of route there.
void check_zone_systems(TomlTable& root, const Track& track) {
  const Route& route = track.route;
  const auto supply_at = [&route](double km) {
    const auto found = std::ranges::find_if(route.sections, [km](const Section& section) {
      return section.from_km <= km && km <= section.to_km;
    });
    return found == route.sections.end() ? std::nullopt : found->supply;
  };
  for (const SeparationSection& separation : route.separations) {
    if (separation.zones.empty()) {
      continue;
    }
    const auto check = [&](const SeparationZone& zone, double km, std::string_view where) {
      const auto supply = supply_at(km);
      if (zone.supply && supply && zone.supply != supply) {
        root.report(zone.place, fmt::format("the live zone {} '{}' is of {}, {} at km {:.9g} of {}",
                                            where, separation.name, name_of(*zone.supply),
                                            track.name, km, name_of(*supply)));
      }
    };
    check(separation.zones.front(), separation.from_km - same_place_km, "before");
    check(separation.zones.back(), separation.from_km + separation.length_m / 1000 + same_place_km,
          "behind");
  }
}

/// A separation section or lowered stretch, as boards speak of it.
struct BoardedStretch {
  std::string_view name;
  double from_km = 0;
  double to_km = 0;
  bool lowered = false;
  bool without_power = true;
};

std::vector<BoardedStretch> boarded_stretches(const Route& route) {
  std::vector<BoardedStretch> all;
  for (const SeparationSection& separation : route.separations) {
    const SeparationExtent extent = extent_of(separation);
    all.push_back({.name = separation.name,
                   .from_km = extent.from_km,
                   .to_km = extent.to_km,
                   .lowered = separation.pantograph_lowered,
                   .without_power = separation.pantograph_lowered || separation.breaker_off});
  }
  for (const LoweredStretch& lowered : route.lowered) {
    all.push_back({.name = lowered.name,
                   .from_km = lowered.from_km,
                   .to_km = lowered.to_km,
                   .lowered = true});
  }
  return all;
}

/// What is wrong with a board of the line; empty if nothing.
std::string mistake_of_board(const Landmark& landmark, const std::vector<BoardedStretch>& stretches,
                             std::string_view track, bool falling) {
  const auto named = [&](const BoardedStretch& stretch) {
    return stretch.name == landmark.board_of;
  };
  const auto stretch = std::ranges::find_if(stretches, named);
  if (stretch == stretches.end()) {
    return fmt::format(
        "{} has no separation section or lowered stretch '{}': 'board_of' is "
        "the name of the one that the board stands for",
        track, landmark.board_of);
  }
  if (std::ranges::count_if(stretches, named) > 1) {
    return fmt::format("several stretches are called '{}': give each a name of its own",
                       landmark.board_of);
  }
  const Board board = *landmark.board;
  if (!stretch->without_power) {
    return fmt::format("'{}' is passed with the breaker on: it has no boards", stretch->name);
  }
  if (!stretch->lowered && (board == Board::lower || board == Board::raise)) {
    return fmt::format("'{}' is passed with pantographs up: it has no board \"{}\"", stretch->name,
                       name_of(board));
  }
  const bool is_before = board == Board::breaker_off || board == Board::lower;
  const auto side = [&](double km) { return falling ? -km : km; };
  const double begins_km = falling ? stretch->to_km : stretch->from_km;
  const double ends_km = falling ? stretch->from_km : stretch->to_km;
  if (is_before && side(landmark.at_km) >= side(begins_km)) {
    return fmt::format("a board \"{}\" stands before what it is for: '{}' begins at km {:.9g}{}",
                       name_of(board), stretch->name, begins_km,
                       falling ? " for trains that run by falling kilometres" : "");
  }
  if (!is_before && side(landmark.at_km) <= side(ends_km)) {
    return fmt::format("a board \"{}\" stands behind what it is for: '{}' ends at km {:.9g}{}",
                       name_of(board), stretch->name, ends_km,
                       falling ? " for trains that run by falling kilometres" : "");
  }
  if (stretch->from_km - landmark.at_km > farthest_board_km ||
      landmark.at_km - stretch->to_km > farthest_board_km) {
    return fmt::format("the board stands more than {:g} km from '{}', km {:.9g} to {:.9g}",
                       farthest_board_km, stretch->name, stretch->from_km, stretch->to_km);
  }
  return {};
}

void check_boards(TomlTable& root, const Track& track, const std::vector<Landmark>& landmarks,
                  bool falling) {
  const std::vector<BoardedStretch> stretches = boarded_stretches(track.route);
  for (const Landmark& landmark : landmarks) {
    if (!landmark.board || landmark.board_of.empty()) {
      continue;
    }
    if (const std::string mistake = mistake_of_board(landmark, stretches, track.name, falling);
        !mistake.empty()) {
      root.report(landmark.place, mistake);
    }
  }
}

void notice_contradictions(const Section& section, Diagnostics& notices) {
  for (const Contradiction& found : contradictions(section.records)) {
    const RaisedRecord& slower = section.records[found.slower];
    notices.push_back(
        {section.record_places[found.record],
         fmt::format("two records of '{}' contradict each other: \"{}\", but \"{}\", in line {}, "
                     "which is the easier case; the lower speed, {:g} km/h, is taken for both. Ask "
                     "the infrastructure manager which of them is right",
                     section.id, words_for(section.records[found.record]), words_for(slower),
                     section.record_places[found.slower].line, slower.speed_kmh)});
  }
}

void notice_gradients(const Route& route, Diagnostics& notices) {
  const auto notice = [&](const std::string& name, double from_km, double to_km,
                          const SourcePlace& place) {
    const auto gaps = without_gradient(route.gradients, from_km, to_km);
    if (!gaps.empty()) {
      notices.push_back(
          {place, fmt::format("'{}' is passed without power, and no gradient is stated from {}: "
                              "whether a train comes to a stand in it is then not known. State "
                              "[[gradient]] from a train's length before breaker off to breaker on",
                              name, words_for(gaps))});
    }
  };
  for (const SeparationSection& separation : route.separations) {
    if (separation.breaker_off || separation.pantograph_lowered) {
      const SeparationExtent extent = extent_of(separation);
      notice(separation.name, extent.from_km, extent.to_km, separation.place);
    }
  }
  for (const LoweredStretch& lowered : route.lowered) {
    notice(lowered.name, lowered.from_km, lowered.to_km, lowered.place);
  }
}

}  // namespace

Diagnostics notices_on(const Route& route) {
  Diagnostics notices;
  for (const Section& section : route.sections) {
    notice_contradictions(section, notices);
  }
  notice_gradients(route, notices);
  return notices;
}

void check_route(const Track& track, bool separations_are_right, TomlTable& root) {
  const Route& route = track.route;
  if (route.sections.empty()) {
    return;
  }
  check_joints(root, route.sections);
  check_stretches(root, track);
  check_places(root, track);
  if (separations_are_right) {
    check_systems(root, route);
    check_zone_systems(root, track);
    check_boards(root, track, route.landmarks, false);
  }
}

void check_falling_landmarks(const Track& track, const std::vector<Landmark>& landmarks,
                             bool separations_are_right, TomlTable& root) {
  if (track.route.sections.empty()) {
    return;
  }
  for (const Landmark& landmark : landmarks) {
    check_inside_track(root, track, landmark.name, landmark.at_km, landmark.place);
  }
  if (separations_are_right) {
    check_boards(root, track, landmarks, true);
  }
}

}  // namespace panup
