#include "plan/stays_down.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "judging/facts/standing.h"
#include "judging/facts/train_collectors.h"
#include "judging/separation_rule.h"

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
  /// The least chainage of the wire over the train.
  double hindmost_km() const {
    const double rear_km = stand_km - length_km();
    return piece.leg.turned && rear_km < piece.leg.start_km ? piece.leg.start_km - length_km()
                                                            : rear_km;
  }
  double place_at_stand_km(std::size_t p) const {
    return place_km(piece.leg, length_km(), behind_km(p), stand_km);
  }
};

SinceStand since_stand(const PlanRequest& request, const RunningTrain& train, const Piece& piece) {
  SinceStand since{.request = request,
                   .train = train,
                   .piece = piece,
                   .room = room_of(request, piece.reversed),
                   .stand_km = departure_km(request.route),
                   .name = request.rules.words.say("the place of departure")};
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

/// Where the train would be clear with its front. After it has turned round under a zone, that is
/// where none of it came under the zone before.
double clear_before_km(const SinceStand& since, const PowerlessZone& zone) {
  const bool came_under = since.piece.leg.turned && zone.from_km < since.piece.leg.start_km;
  return came_under ? zone.from_km : zone.from_km + since.room.foremost_km;
}

/// How the train stands to a zone.
enum class Near : std::uint8_t { in_it, caught, close_before };

/// Why they stay down, and where the train would be clear.
std::string words_for(const SinceStand& since, PantographSet set, const PowerlessZone& zone,
                      Near near) {
  const Words& words = since.train.words;
  const std::string up = list_of(since.train, set);
  const double clear_km = std::floor(1000 * clear_before_km(since, zone)) / 1000;
  switch (near) {
    case Near::in_it:
      return words.say(
          "{}: the train stands at {}, km {:.3f}, with its front in {}, and could not start with "
          "it. It is clear with its front before km {:.3f}.",
          up, since.name, since.stand_km, zone.name, clear_km);
    case Near::caught:
      return words.say(
          "{}: the train stands at {}, km {:.3f}, and is then in or before {}, and could not start "
          "with it. It is clear with its front before km {:.3f}.",
          up, since.name, since.stand_km, zone.name, clear_km);
    case Near::close_before:
      break;
  }
  return words.say(
      "{}: the train stands at {}, km {:.3f}, close before {}, and could not start with it. It is "
      "clear with its front before km {:.3f}.",
      up, since.name, since.stand_km, zone.name, clear_km);
}

/// Where the front is when the pantograph is past a zone that some of the train is in or has passed
/// at the stand; nothing where it has passed already. After a reversal what came under a zone
/// before has it ahead once more.
std::optional<double> front_past_zone_km(const SinceStand& since, const PowerlessZone& zone,
                                         std::size_t p) {
  const Leg& leg = since.piece.leg;
  const double behind_km = since.behind_km(p);
  const bool is_on_old_wire = leg.turned && since.stand_km - behind_km < leg.start_km;
  std::optional<double> past_km;
  if (is_on_old_wire && zone.from_km < leg.start_km && since.place_at_stand_km(p) > zone.from_km) {
    past_km = front_past_km(leg, since.length_km(), behind_km, zone.from_km);
  }
  const bool is_ahead_of_start = !leg.turned || zone.to_km > leg.start_km;
  if (is_ahead_of_start && since.stand_km - behind_km < zone.to_km) {
    past_km = std::max(past_km.value_or(zone.to_km + behind_km), zone.to_km + behind_km);
  }
  return past_km;
}

/// For a zone that some of the train is in or has passed at the stand.
PantographSet caught_by(const SinceStand& since, const PowerlessZone& zone) {
  PantographSet caught;
  for (std::size_t p = 0; p < since.train.pantographs.size(); ++p) {
    const auto past_km = front_past_zone_km(since, zone, p);
    if (past_km && since.piece.from_km < *past_km - 1e-9) {
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

/// At departure from within the route the train stands where it stands, and cannot be asked to stop
/// elsewhere: what may then be in a stretch where no raised pantograph may stand stays down until
/// it is past.
void add_where_none_may_stand(const SinceStand& since, std::vector<StaysDown>& all) {
  const Route& route = since.request.route;
  const auto rule = std::ranges::find_if(since.request.rules.rules, [](const Rule& candidate) {
    return candidate.on && candidate.kind == RuleKind::standing_place &&
           candidate.words.at("place") == "stop";
  });
  if (!route.departs_km || since.stand_km != *route.departs_km ||
      rule == since.request.rules.rules.end()) {
    return;
  }
  PantographSet every;
  for (const RunningVehicle& vehicle : since.train.vehicles) {
    every |= vehicle.all;
  }
  const RaisedCollectors collectors =
      raised_collectors(since.train, every, strips_not_stated_m(since.request.rules));
  const Leg& leg = since.piece.leg;
  const double inexact_km = number_of(*rule, "stops_short_m").value_or(0) / 1000;
  for (const NoStandingStretch& stretch : no_standing_stretches(route, since.train.words)) {
    PantographSet in_it;
    for (const Collector& collector : collectors.collectors) {
      const double behind_km = collector.behind_front_m / 1000;
      const double half_km = collector.strip_extent_m / 2000;
      const double km = place_km(leg, since.length_km(), behind_km, since.stand_km);
      const bool is_on_old_wire = leg.turned && since.stand_km - behind_km < leg.start_km;
      const double from_km = km - half_km - (is_on_old_wire ? 0 : inexact_km);
      const double to_km = km + half_km + (is_on_old_wire ? inexact_km : 0);
      if (to_km < stretch.from_km || from_km > stretch.to_km ||
          (!is_on_old_wire && leg.turned && stretch.to_km < leg.start_km)) {
        continue;
      }
      const double past_km = front_past_km(leg, since.length_km(), behind_km,
                                           is_on_old_wire ? stretch.from_km : stretch.to_km);
      if (since.piece.from_km < past_km + half_km + inexact_km) {
        in_it.insert(*index_of(since.train, collector.ref));
      }
    }
    if (!in_it.empty()) {
      all.push_back(
          {in_it, since.train.words.say("{}: the train stands at {}, km {:.3f}, or up to {:g} m "
                                        "before, and it would go up in {}, where no raised "
                                        "pantograph may stand.",
                                        list_of(since.train, in_it), since.name, since.stand_km,
                                        1000 * inexact_km, stretch.words)});
    }
  }
}

}  // namespace

std::vector<StaysDown> stays_down_on(const PlanRequest& request, const RunningTrain& train,
                                     const std::vector<PowerlessZone>& zones, const Piece& piece) {
  std::vector<StaysDown> all;
  if (piece.lowered || (zones.empty() && !request.route.departs_km)) {
    return all;
  }
  const SinceStand since = since_stand(request, train, piece);
  add_where_none_may_stand(since, all);
  const bool turned_here = piece.leg.turned && since.stand_km == piece.leg.start_km;
  const auto add = [&](PantographSet set, const PowerlessZone& zone, Near near) {
    if (!set.empty()) {
      all.push_back({set, words_for(since, set, zone, near)});
    }
  };
  for (const PowerlessZone& zone : zones) {
    if (zone.to_km < since.hindmost_km() || zone.from_km > since.stand_km + farthest_km) {
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
      add(piece.from_km <= zone.to_km ? all_of_them : PantographSet{}, zone, Near::in_it);
    } else if (zone.from_km < since.stand_km) {
      add(caught_by(since, zone), zone, Near::caught);
    } else if (zone.from_km >= piece.to_km) {
      if (!stands_within(request.route, piece.to_km, zone.from_km)) {
        add(too_near(since, zone), zone, Near::close_before);
      }
    } else if (piece.from_km < zone.from_km || !zone.lowered) {
      add(piece.from_km <= zone.from_km ? too_near(since, zone) : PantographSet{}, zone,
          Near::close_before);
    }
  }
  return all;
}

}  // namespace panup
