#include "plan/stays_down.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace panup {

namespace {

/// Orders are rounded to 10 m; less room than this is none.
constexpr double least_room_km = 0.02;
/// No train needs so much room to lower.
constexpr double farthest_km = 5;

/// The train on a piece since it last stood.
struct SinceStand {
  const PlanRequest& request;
  const RunningTrain& train;
  const Piece& piece;
  Room room;
  double stand_km = 0;
  std::string name;  ///< of the stand

  double length_km() const { return train.layout.length_m / 1000; }
  double behind_km(std::size_t p) const { return train.pantographs[p].from_front_m / 1000; }
  double place_at_stand_km(std::size_t p) const {
    return place_km(piece.leg, length_km(), behind_km(p), stand_km);
  }
};

SinceStand since_stand(const PlanRequest& request, const RunningTrain& train, const Piece& piece) {
  SinceStand since{.request = request,
                   .train = train,
                   .piece = piece,
                   .room = room_of(request, piece.reversed),
                   .stand_km = request.route.sections.front().from_km,
                   .name = "the place of departure"};
  for (const Stop& stop : request.route.stops) {
    if (stop.at_km <= piece.from_km && stop.at_km >= since.stand_km) {
      since.stand_km = stop.at_km;
      since.name = stop.name;
    }
  }
  return since;
}

/// From where the train stands: whether the driver can still open the breaker, and lower where that
/// is asked for, before what stands `behind_km` behind the front comes to the zone.
bool has_room_before(const SinceStand& since, const PowerlessZone& zone, double behind_km) {
  const double room_km = zone.from_km + behind_km - since.stand_km;
  if (room_km <= 0) {
    return false;
  }
  const double line_kmh = highest_line_kmh(since.request.route, since.stand_km, zone.to_km);
  const double reached_kmh = reached_from_stand_kmh(since.request.train, 1000 * room_km);
  const double speed_kmh =
      std::min({line_kmh, reached_kmh, zone.lowered ? since.room.lowered_kmh : line_kmh});
  const double seconds = since.room.reaction_s + since.room.breaker_s +
                         (zone.lowered ? since.room.reaction_s + since.room.lowering_s : 0);
  return room_km - km_in(seconds, speed_kmh) > least_room_km;
}

/// Why they stay down, and from where on the train would be clear.
std::string words_for(const SinceStand& since, PantographSet set, const PowerlessZone& zone,
                      std::string_view where) {
  return fmt::format(
      "{}: the train stands at {}, km {:.3f}, {} {}, and could not start with it. It is clear with "
      "its front before km {:.3f}.",
      list_of(since.train, set), since.name, since.stand_km, where, zone.name,
      std::floor(1000 * (zone.from_km + since.room.foremost_km)) / 1000);
}

/// Whether the pantograph, on the piece, is still where it was at the stand: in the zone, or before
/// the end that it runs to.
bool is_before_end(const SinceStand& since, const PowerlessZone& zone, std::size_t p) {
  const bool came_under = since.piece.leg.turned && since.stand_km == since.piece.leg.start_km &&
                          since.place_at_stand_km(p) > zone.from_km &&
                          zone.from_km < since.stand_km;
  const double end_km = came_under ? zone.from_km : zone.to_km;
  return since.piece.from_km <
         front_past_km(since.piece.leg, since.length_km(), since.behind_km(p), end_km) - 1e-9;
}

/// For a zone that some of the train is in or has passed at the stand.
PantographSet caught_by(const SinceStand& since, const PowerlessZone& zone) {
  PantographSet caught;
  const bool turned_here = since.piece.leg.turned && since.stand_km == since.piece.leg.start_km;
  for (std::size_t p = 0; p < since.train.pantographs.size(); ++p) {
    const double place = since.place_at_stand_km(p);
    const bool has_it_ahead = turned_here ? place > zone.from_km : place < zone.to_km;
    if (has_it_ahead && is_before_end(since, zone, p)) {
      caught.insert(p);
    }
  }
  return caught;
}

/// For a zone ahead of the stand.
PantographSet too_near(const SinceStand& since, const PowerlessZone& zone) {
  PantographSet near;
  for (std::size_t p = 0; p < since.train.pantographs.size(); ++p) {
    if (!has_room_before(since, zone, since.behind_km(p))) {
      near.insert(p);
    }
  }
  return near;
}

}  // namespace

std::vector<StaysDown> stays_down_on(const PlanRequest& request, const RunningTrain& train,
                                     const std::vector<PowerlessZone>& zones, const Piece& piece) {
  std::vector<StaysDown> all;
  if (zones.empty() || piece.lowered) {
    return all;
  }
  const SinceStand since = since_stand(request, train, piece);
  const bool turned_here = piece.leg.turned && since.stand_km == piece.leg.start_km;
  const auto add = [&](PantographSet set, const PowerlessZone& zone, std::string_view where) {
    if (!set.empty()) {
      all.push_back({set, words_for(since, set, zone, where)});
    }
  };
  for (const PowerlessZone& zone : zones) {
    if (zone.to_km < since.stand_km - since.length_km() ||
        zone.from_km > since.stand_km + farthest_km) {
      continue;
    }
    const bool stands_in_it =
        (zone.lowered ? zone.from_km <= since.stand_km : zone.from_km < since.stand_km) &&
        since.stand_km < zone.to_km;
    if (stands_in_it && (turned_here || zone.lowered)) {
      // The front is in it: it would have to open and lower at once, in the middle of it.
      PantographSet all_of_them;
      for (const RunningVehicle& vehicle : train.vehicles) {
        all_of_them |= vehicle.all;
      }
      add(piece.from_km <= zone.to_km ? all_of_them : PantographSet{}, zone, "with its front in");
    } else if (zone.from_km < since.stand_km) {
      add(caught_by(since, zone), zone, "and is then in or before");
    } else if (zone.from_km >= piece.to_km) {
      if (!stands_within(request.route, piece.to_km, zone.from_km)) {
        add(too_near(since, zone), zone, "close before");
      }
    } else if (piece.from_km < zone.from_km || !zone.lowered) {
      add(piece.from_km <= zone.from_km ? too_near(since, zone) : PantographSet{}, zone,
          "close before");
    }
  }
  return all;
}

}  // namespace panup
