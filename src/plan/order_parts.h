#pragma once
/// The parts of `place_orders`, one file a family of orders. Used by it alone.

#include <string>
#include <vector>

#include "plan/landmarks.h"
#include "plan/orders.h"

namespace panup {

/// A speed that holds while the front of the train is between two places.
struct SpeedHold {
  double from_km = 0;
  double to_km = 0;
  double speed_kmh = 0;
  std::size_t piece = 0;
  std::string because = {};  ///< as in `Order`
};

/// What the parts share: the way, and what has been ordered along it so far.
struct Placing {
  const PlanningCase& planning;
  const Way& way;
  DriverTimes times;
  NamedPlaces places;
  std::size_t reached = 0;  ///< pieces the train can run on: those before the first blocked stretch
  double end_km = 0;        ///< where they end
  Orders orders = {};
  std::vector<SpeedHold> holds = {};

  /// What is up on a piece; on one with pantographs down: what was up before. Empty where blocked.
  PantographSet set_on(std::size_t piece) const {
    return way.raised[piece].value_or(PantographSet{});
  }
  void add(Order order) { orders.all.push_back(std::move(order)); }
};

/// How far the train runs in a time, in km.
inline double km_in(double seconds, double speed_kmh) { return seconds * speed_kmh / 3600; }

/// From the order to lower, or to raise, until the slowest of the set is down, or up.
double lowering_s(const Placing& placing, std::size_t piece, PantographSet set);
double raising_s(const Placing& placing, std::size_t piece, PantographSet set);

/// Orders the vehicles dead in tow that are so from `km` on, on this piece, and were not before.
void order_tow(Placing& placing, std::size_t piece, double km, PantographSet before);

/// From a configuration to another where the train stands.
void change_at_stand(Placing& placing, std::size_t piece, PantographSet before);
/// What goes up for the stand alone. `entered`: the piece behind it; their number on arrival.
void raise_for_stand(Placing& placing, const std::vector<StandHelp>& helps, std::size_t entered);
/// Lowers `set` before departure to `piece`.
void lower_after_stand(Placing& placing, std::size_t piece, PantographSet set);
void turn_round(Placing& placing, std::size_t piece);

/// From a configuration to another where `piece` begins, without a stop.
void change_on_the_move(Placing& placing, std::size_t piece, PantographSet before);

/// `first` to `last`: the pieces with pantographs down.
void pass_lowered(Placing& placing, std::size_t first, std::size_t last);
/// A separation section passed with pantographs up and the breaker open.
void pass_separation(Placing& placing, const SeparationSection& separation);

/// The speeds that the rules permit on the pieces, besides those held already.
void hold_speeds(Placing& placing);
/// Orders a speed wherever the lowest of those that hold changes.
void order_speeds(Placing& placing);

}  // namespace panup
