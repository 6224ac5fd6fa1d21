/// What speeds hold along the way, and where they are ordered.

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <set>
#include <utility>

#include "plan/order_parts.h"

namespace panup {

/// Speeds of the pieces hold until the whole train is out of them; a train that has turned round
/// stands with its new front at the border, and its length does not count.
void hold_speeds(Placing& placing) {
  const PlanningCase& planning = placing.planning;
  const double length_km = planning.judges[0].train().layout.length_m / 1000;
  for (std::size_t i = 0; i < placing.reached; ++i) {
    double until = planning.pieces[i].to_km + length_km;
    for (std::size_t j = i + 1; j < planning.pieces.size() && planning.pieces[j].from_km < until;
         ++j) {
      if (planning.pieces[j].entered_reversed) {
        until = planning.pieces[j].from_km;
      }
    }
    SpeedHold hold{.from_km = planning.pieces[i].from_km, .to_km = until, .piece = i};
    if (planning.pieces[i].lowered) {
      // The speed with pantographs down is held where they are; the line's, over the whole train.
      hold.speed_kmh = planning.section(i).line_speed_kmh;
      hold.because = fmt::format("line speed {:g} km/h", hold.speed_kmh);
      hold.yields = true;
    } else {
      hold.speed_kmh = planning.judge(i).judge(planning.ground(i), placing.set_on(i), {}).speed_kmh;
    }
    placing.holds.push_back(std::move(hold));
  }
  placing.holds_of_pieces = placing.holds.size();
  // A train that has turned round leaves the sections that it stands on once more.
  for (std::size_t i = 0; i < placing.reached; ++i) {
    if (!planning.pieces[i].entered_reversed) {
      continue;
    }
    const double stand_km = planning.pieces[i].from_km;
    double speed_kmh = std::numeric_limits<double>::infinity();
    for (std::size_t j = i; j-- > 0 && planning.pieces[j].to_km > stand_km - length_km;) {
      speed_kmh = std::min(speed_kmh, planning.section(j).line_speed_kmh);
    }
    placing.holds.push_back({.from_km = stand_km,
                             .to_km = stand_km + length_km,
                             .speed_kmh = speed_kmh,
                             .piece = i,
                             .because = fmt::format("line speed {:g} km/h under the rest of the "
                                                    "train",
                                                    speed_kmh),
                             .yields = true});
  }
}

double highest_held_kmh(const Placing& placing, double from_km, double to_km) {
  const std::vector<SpeedHold>& holds = placing.holds;
  const double length_km = placing.planning.judges[0].train().layout.length_m / 1000;
  std::vector<const SpeedHold*> near;
  std::vector<double> places{from_km};
  for (auto hold = std::upper_bound(
           holds.begin(), holds.begin() + static_cast<std::ptrdiff_t>(placing.holds_of_pieces),
           to_km, [](double km, const SpeedHold&other) { return km < other.from_km; });
       hold != holds.begin();) {
    --hold;
    if (placing.planning.pieces[hold->piece].to_km + length_km < from_km) {
      break;
    }
    near.push_back(&*hold);
    for (const double km : {hold->from_km, hold->to_km}) {
      if (km > from_km && km < to_km) {
        places.push_back(km);
      }
    }
  }
  double highest = 0;
  for (const double km : places) {
    double lowest = std::numeric_limits<double>::infinity();
    for (const SpeedHold* const hold : near) {
      if (hold->from_km <= km && hold->to_km > km) {
        lowest = std::min(lowest, hold->speed_kmh);
      }
    }
    highest = std::max(highest,
                       std::min(lowest, highest_line_kmh(placing.planning.request->route, km, km)));
  }
  return highest;
}

void order_speeds(Placing& placing) {
  std::vector<SpeedHold>& holds = placing.holds;
  std::ranges::stable_sort(holds, {}, &SpeedHold::from_km);
  std::set<double> kms;
  for (const SpeedHold& hold : holds) {
    kms.insert(hold.from_km);
    kms.insert(hold.to_km);
  }
  std::vector<const SpeedHold*> active;
  std::size_t next = 0;
  double ordered = 0;
  for (const double km : kms) {
    if (km >= placing.end_km) {
      break;
    }
    std::erase_if(active, [km](const SpeedHold* hold) { return hold->to_km <= km; });
    while (next < holds.size() && holds[next].from_km <= km) {
      if (holds[next].to_km > km) {
        active.push_back(&holds[next]);
      }
      ++next;
    }
    const auto lowest = std::ranges::min_element(
        active, {}, [](const SpeedHold* hold) { return std::pair(hold->speed_kmh, hold->yields); });
    if (lowest == active.end()) {
      ordered = 0;  // nothing is permitted here; the next speed is ordered anew
      continue;
    }
    const SpeedHold& hold = **lowest;
    if (hold.speed_kmh == ordered) {
      continue;
    }
    // Pantographs are lowered and raised at the lower speed: it comes before what else is ordered
    // at the same place. Orders of one place stay as they stand here.
    std::vector<Order>& all = placing.orders.all;
    all.insert(hold.speed_kmh < ordered ? all.begin() : all.end(), {.at_km = km,
                                                                    .action = Action::speed,
                                                                    .piece = hold.piece,
                                                                    .speed_kmh = hold.speed_kmh,
                                                                    .because = hold.because});
    ordered = hold.speed_kmh;
  }
}

}  // namespace panup
