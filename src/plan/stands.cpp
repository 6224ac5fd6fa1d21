#include "plan/stands.h"

#include "plan/section_findings.h"

namespace panup {

namespace {

PantographSet up_on(const PlanningCase& planning, const Way& way, std::size_t piece) {
  return planning.pieces[piece].lowered ? PantographSet{}
                                        : way.raised[piece].value_or(PantographSet{});
}

/// The name of the stop at `km`; empty where there is none.
std::string stop_name(const Route& route, double km) {
  for (const Stop& stop : route.stops) {
    if (stop.at_km == km) {
      return stop.name;
    }
  }
  return {};
}

Stand end_of_way(const PlanningCase& planning, const Way& way, StandKind kind) {
  const Route& route = planning.request->route;
  const bool departs = kind == StandKind::departure;
  const std::size_t count = planning.pieces.size();
  const std::size_t ground = departs ? 0 : count - 1;
  const double at_km = departs ? planning.pieces.front().from_km : planning.pieces.back().to_km;
  const PantographSet up = up_on(planning, way, ground);
  return {.kind = kind,
          .name = departs || route.ends_at.empty() ? stop_name(route, at_km) : route.ends_at,
          .at_km = at_km,
          .ground = ground,
          .entered = departs ? 0 : count,
          .up = up,
          .leaves = up};
}

}  // namespace

std::vector<Stand> stands_of(const PlanningCase& planning, const Way& way) {
  std::vector<Stand> stands{end_of_way(planning, way, StandKind::departure)};
  for (std::size_t i = 1; i < planning.pieces.size(); ++i) {
    const Piece& piece = planning.pieces[i];
    if (piece.entry == Passage::standstill) {
      stands.push_back({.kind = StandKind::stop,
                        .name = piece.entry_place,
                        .at_km = piece.from_km,
                        .ground = i - 1,
                        .entered = i,
                        .up = up_on(planning, way, i - 1),
                        .leaves = up_on(planning, way, i)});
    }
  }
  stands.push_back(end_of_way(planning, way, StandKind::arrival));
  for (const Landmark& landmark : planning.request->route.landmarks) {
    if (landmark.signal && landmark.at_km >= planning.pieces.front().from_km) {
      const std::size_t ground = piece_reaching(planning, landmark.at_km);
      const PantographSet up = up_on(planning, way, ground);
      stands.push_back({.kind = StandKind::signal,
                        .name = landmark.name,
                        .at_km = landmark.at_km,
                        .ground = ground,
                        .entered = ground,
                        .up = up,
                        .leaves = up});
    }
  }
  return stands;
}

std::string where_words(const Stand& stand, const Words& words) {
  switch (stand.kind) {
    case StandKind::departure:
      return words.say("at departure");
    case StandKind::stop:
      return words.say("at the stop {}", stand.name);
    case StandKind::arrival:
      return words.say("on arrival");
    case StandKind::signal:
      break;
  }
  return words.say("at the signal {}", stand.name);
}

std::string place_words(const Stand& stand, const Words& words) {
  if (!stand.name.empty()) {
    return stand.name;
  }
  return stand.kind == StandKind::departure ? words.say("the place of departure")
                                            : words.say("the end of the route");
}

}  // namespace panup
