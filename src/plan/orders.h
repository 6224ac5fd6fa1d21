#pragma once
/// Where the driver acts along a way: places and figures, no words. What is judged by where the
/// breaker opens or a pantograph goes up reads them from here; `instructions.h` puts them in words.

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.h"
#include "plan/planning_case.h"
#include "plan/stand_current.h"
#include "plan/stand_place.h"
#include "plan/way.h"

namespace panup {

/// One order to the driver.
struct Order {
  double at_km = 0;  ///< of the front of the train
  Action action{};
  std::size_t piece = 0;                  ///< the piece of route it is given for
  PantographSet pantographs = {};         ///< actions `raise` and `lower`
  std::vector<int> vehicles = {};         ///< as in `Instruction`
  double speed_kmh = 0;                   ///< action `speed`; 0: stop here
  std::optional<int> power_percent = {};  ///< as in `Instruction`
  std::optional<double> current_a = {};   ///< as in `Instruction`
  std::string what = {};                  ///< action `stop_short`: the order in words
  /// One clause, may be empty. A speed without one is the limit of the rules on `piece`.
  std::string because = {};
  std::string if_not_possible = {};  ///< may be empty
};

/// A speed that is ordered along a stretch of the way, by the front of the train.
struct SpeedAlong {
  double from_km = 0;
  double to_km = 0;
  double speed_kmh = 0;
  std::size_t piece = 0;     ///< the piece of route that asks for it
  std::string because = {};  ///< as in `Order`
  std::string rule = {};     ///< id of the rule that asks for it; empty: as in `Order`
  bool of_piece = false;     ///< asked for by the piece, until the whole train has left it
};

/// From breaker off to breaker on, by the front of the train, and the zones that the pantographs
/// pass in between, by their chainage. The front may be through a zone before the breaker opens for
/// it.
struct WithoutPower {
  double off_km = 0;
  double on_km = 0;
  std::vector<PowerlessZone> zones = {};
};

struct Orders {
  std::vector<Order> all;  ///< by rising chainage; those of one place in the order to do them
  std::vector<std::string> notes;  ///< what could not be ordered as it should, one sentence each
  /// What the speeds among them come to, from place to place; a gap where nothing is permitted.
  std::vector<SpeedAlong> speeds;
  std::vector<PlacedFinding> findings;      ///< in order along the way
  std::vector<WithoutPower> without_power;  ///< in order along the way
};

/// The orders along a way, correct for the pantographs behind the front of the train.
///
/// Lowering is ordered no later than the zone's start plus the offset of the first raised
/// pantograph less speed × (reaction + lowering time); the breaker opens before that by its own
/// time. Raising is ordered when the rearmost pantograph to be raised has passed the zone's end;
/// the breaker closes after it is up. Where there is no room to close between two zones, it stays
/// open through both. Points are rounded to 10 m towards the safe side, and tied to a landmark that
/// lies on the safe side within the rule book's distance, where the orders before and behind leave
/// room. A higher speed is ordered when the whole train has left the slower stretch, and only where
/// the train can make use of it before the next lower one.
Orders place_orders(const PlanningCase& planning, const Way& way, const StandCurrents& currents,
                    const std::vector<ShortStop>& short_stops);

}  // namespace panup
