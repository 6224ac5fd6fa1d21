#include "judging/wear.h"

#include <cmath>
#include <vector>

#include "judging/judge_parts.h"

namespace panup {

namespace {

double rubbing_of(std::span<const StripLoad> loads) {
  double sum = 0;
  for (const StripLoad& load : loads) {
    sum += load.force_n;
  }
  return sum;
}

double heating_of(std::span<const StripLoad> loads) {
  double sum = 0;
  for (const StripLoad& load : loads) {
    sum += load.current_a * load.current_a / (load.speed_kmh * std::sqrt(load.force_n));
  }
  return sum;
}

/// Any current and any speed, for only their ratio counts.
constexpr double some_current_a = 1;
constexpr double some_speed_kmh = 1;

void judge_vehicle(const Rule& rule, const JudgedCase& judged, const RunningVehicle& vehicle,
                   Opinion& opinion) {
  std::vector<StripLoad> loads;
  PantographSet first;
  PantographSet up;
  for (const std::size_t p : judged.raised_front_first) {
    if (!vehicle.all.contains(p)) {
      continue;
    }
    const PantographType& type = *judged.train.pantographs[p].type;
    const PantographSupply* const supply =
        judged.section.supply ? supply_of(type, *judged.section.supply) : nullptr;
    if (supply == nullptr) {
      return;
    }
    loads.push_back({.force_n = supply->static_force_n,
                     .current_a = some_current_a,
                     .speed_kmh = some_speed_kmh});
    up.insert(p);
    first = first.empty() ? up : first;
  }
  if (loads.size() < 2) {
    return;
  }
  const StripLoad alone = loads.front();
  for (StripLoad& load : loads) {
    load.current_a = some_current_a / static_cast<double>(loads.size());
  }
  opinion.say(rule, Strength::note, [&] {
    const RelativeWear wear = relative_wear(loads, {&alone, 1});
    return judged.words().say(
        "Strip wear per kilometre of {} against {} alone at the same speed: by rubbing {:.2f} "
        "times as much in all, by heating from the current {:.2f} times. A comparison, no "
        "prediction.",
        list_of(judged.train, up), list_of(judged.train, first), wear.rubbing, wear.heating);
  });
}

}  // namespace

RelativeWear relative_wear(std::span<const StripLoad> these, std::span<const StripLoad> those) {
  const double heating = heating_of(those);
  return {.rubbing = rubbing_of(these) / rubbing_of(those),
          .heating = heating > 0 ? heating_of(these) / heating : 1};
}

void judge_strip_wear(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (!opinion.explains()) {
    return;
  }
  for (const RunningVehicle& vehicle : judged.train.vehicles) {
    judge_vehicle(rule, judged, vehicle, opinion);
  }
}

}  // namespace panup
