#pragma once
/// The parts of `place_orders`, one file a family of orders. Used by it alone.

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "plan/landmarks.h"
#include "plan/moving_change.h"
#include "plan/orders.h"

namespace panup {

/// A speed that holds while the front of the train is between two places.
struct SpeedHold {
  double from_km = 0;
  double to_km = 0;
  double speed_kmh = 0;
  std::size_t piece = 0;
  std::string because = {};  ///< as in `Order`
  std::string rule = {};     ///< as in `SpeedAlong`
  bool yields = false;       ///< another one that is as low is the reason
  bool of_piece = false;     ///< as in `SpeedAlong`
};

/// Tells, from place to place, which of some holds is the lowest by its rank: `tell(from_km, to_km,
/// hold)`, null where none holds, from where the first begins up to `end_km`. A hold has `from_km`
/// and `to_km`; they are given by rising `from_km`. One that ends where it begins is nothing.
template <typename Hold, typename Rank, typename Tell>
void tell_lowest(const std::vector<Hold>& holds, double end_km, const Rank& rank,
                 const Tell& tell) {
  std::set<double> kms{end_km};
  for (const Hold& hold : holds) {
    kms.insert(hold.from_km);
    kms.insert(hold.to_km);
  }
  std::vector<const Hold*> active;
  auto next = holds.begin();
  for (auto km = kms.begin(); *km < end_km; ++km) {
    std::erase_if(active, [km](const Hold* hold) { return hold->to_km <= *km; });
    for (; next != holds.end() && next->from_km <= *km; ++next) {
      if (next->to_km > *km) {
        active.push_back(&*next);
      }
    }
    const auto lowest =
        std::ranges::min_element(active, {}, [&rank](const Hold* hold) { return rank(*hold); });
    tell(*km, *std::next(km), lowest == active.end() ? nullptr : *lowest);
  }
}

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
  std::size_t holds_of_pieces = 0;  ///< the first of them; by rising chainage

  struct Along {
    double from_km = 0;
    double to_km = 0;
  };
  std::vector<Along> changes = {};  ///< on the move: from the first order to the last
  /// By piece entered from a stand: what the train comes there with, where it is not what was to be
  /// up on the piece before, since a zone is passed only in part.
  std::map<std::size_t, PantographSet> comes_instead = {};

  /// What is up on a piece; on one with pantographs down: what was up before. Empty where blocked.
  PantographSet set_on(std::size_t piece) const {
    return way.raised[piece].value_or(PantographSet{});
  }
  /// What is up when the train comes to the stand before a piece.
  PantographSet comes_with(std::size_t piece) const {
    const auto instead = comes_instead.find(piece);
    return instead != comes_instead.end() ? instead->second
           : piece == 0                   ? PantographSet{}
                                          : set_on(piece - 1);
  }
  /// The numbers of the vehicles with a pantograph in the set, rising.
  std::vector<int> vehicles_with(PantographSet set) const {
    std::set<int> numbers;
    for (const RunningVehicle& vehicle : planning.judges[0].train().vehicles) {
      if (vehicle.all.intersects(set)) {
        numbers.insert(vehicle.number);
      }
    }
    return {numbers.begin(), numbers.end()};
  }
  void add(Order order) { orders.all.push_back(std::move(order)); }
};

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

/// The stretches without power: breaker off, pantographs down, up again, breaker on. After
/// `hold_speeds`.
void pass_zones(Placing& placing);

/// Where less than full power may be drawn, and from where it may be again.
void order_power(Placing& placing);
/// What may be drawn where the train stands.
void limit_current_at_stands(Placing& placing, const std::vector<StandLimit>& limits);
/// Where the train has to stop before a place.
void order_short_stops(Placing& placing, const std::vector<ShortStop>& stops);

/// The speeds that the rules permit on the pieces.
void hold_speeds(Placing& placing);
/// The highest speed that the pieces hold between two places.
double highest_held_kmh(const Placing& placing, double from_km, double to_km);
/// The id of the rule of a kind; empty if the rule book has none.
std::string rule_id(const Placing& placing, RuleKind kind);
/// Orders a speed wherever the lowest of those that hold changes, but for faster stretches that are
/// too short to be of use.
void order_speeds(Placing& placing);

}  // namespace panup
