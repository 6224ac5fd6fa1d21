#pragma once

#include <vector>

#include "plan/make_plan.h"

namespace panup {

/// What rounding orders to 10 m may cost, one after the other.
inline constexpr double rounding_km = 0.04;

/// How far the train runs in a time, in km.
inline double km_in(double seconds, double speed_kmh) { return seconds * speed_kmh / 3600; }

/// The way from one reversal to the next.
struct Leg {
  double start_km = 0;
  bool turned = false;    ///< it begins with a reversal
  bool reversed = false;  ///< the train runs against its direction at departure
};

/// The legs of a route from departure on, in order; at least one. The first keeps where it began,
/// also where the train departs farther on: the wire over the rest of the train follows from that.
std::vector<Leg> legs_of(const Route& route);

/// The least chainage of the wire over the train at departure; minus infinity where it departs from
/// where the route begins.
double hindmost_wire_km(const PlanRequest& request);

/// The chainage of the wire over what stands `behind_km` behind the front. After a reversal the new
/// front stands at the stop's chainage, and the wire over the train is the one that it came under:
/// what has not yet passed the stop is under that, and nears the old rear end of the train.
double place_km(const Leg& leg, double train_length_km, double behind_km, double front_km);

/// Where the front is when what stands `behind_km` behind it leaves the wire of chainage `wire_km`:
/// the one ahead of it, or the one that the train came under before it turned.
double front_past_km(const Leg& leg, double train_length_km, double behind_km, double wire_km);

/// Chainages of boards that tell the same, rising, by the stretch that they are for.
using BoardsByStretch = std::vector<std::vector<double>>;

/// The line's own boards for a zone, by what they tell. A merged zone has those of all its parts.
struct ZoneBoards {
  BoardsByStretch breaker_off;
  BoardsByStretch lower;
  BoardsByStretch raise;
  BoardsByStretch breaker_on;

  /// The first of those before the zone; infinity if there is none. No order that one of them
  /// speaks of has to come before it.
  double first_before_km() const;
};

/// Behind a zone: nothing that the boards speak of is done before this; minus infinity if there are
/// none.
double first_behind_km(const BoardsByStretch& boards);

/// A stretch that the train passes without power.
struct PowerlessZone {
  std::string name;    ///< of all that are merged in it
  double from_km = 0;  ///< where a collector head may first touch it
  double to_km = 0;
  bool lowered = false;    ///< with all pantographs down; else with the breaker open
  bool merged = false;     ///< of several, which all are passed lowered
  ZoneBoards boards = {};  ///< those that bind
};

/// What of the train and the rule book says how much room orders need.
struct Room {
  double foremost_km = 0;  ///< offset of the first pantograph behind the front of the train
  double rearmost_km = 0;
  double length_km = 0;
  double raising_s = 0;  ///< the slowest of the train
  double lowering_s = 0;
  double reaction_s = 0;
  double breaker_s = 0;
  double lowered_kmh = 0;  ///< the highest speed with pantographs down
};

/// For either direction of the train.
Room room_of(const PlanRequest& request, bool reversed);

/// The highest line speed between two places.
double highest_line_kmh(const Route& route, double from_km, double to_km);

/// The stretches that are passed without power, in order. Where there is no room between two of
/// them to raise, all stay down through both, and `notes` says so. Where there is only none to
/// close the breaker, that is left to the orders.
std::vector<PowerlessZone> powerless_zones(const PlanRequest& request,
                                           std::vector<std::string>& notes);

/// Where the train stood last before it comes to a place: a stop, or the place of departure.
double last_stand_km(const Route& route, double before_km);

/// The speed that the train reaches on so many metres from a stand, in km/h.
double reached_from_stand_kmh(const Train& train, double room_m);

/// Greatest speed that can be reached in `room_m`, entering at `u` and leaving at `w`, in m/s.
double reachable_ms(const Train& train, double room_m, double u, double w);

/// Whether the train stands anywhere from `from_km` to `to_km`: at a stop, or where it departs
/// within the route.
bool stands_within(const Route& route, double from_km, double to_km);

}  // namespace panup
