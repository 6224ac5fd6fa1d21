#include "plan/least_cost.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "plan/candidates.h"

namespace panup {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();

/// What a vehicle does at best in a role, rung by rung and by itself.
struct AtBest {
  VehicleRole role;
  bool possible = false;
  LadderCost cost;  ///< of the best configuration of the vehicle, without time and consents
  bool needs_consent = true;
  double speed_kmh = 0;                                             ///< of the fastest
  std::pair<int, int> exposed{std::numeric_limits<int>::max(), 0};  ///< dangerous, sensitive loads
};

/// One that could work, and where its pantographs are.
struct AbleVehicle {
  std::size_t index = 0;  ///< in `RunningTrain::vehicles`
  VehicleChoices choices;
  double foremost_m = unlimited;
  double rearmost_m = 0;
  bool ordered = false;  ///< some of it up
  std::vector<AtBest> known;
};

struct Bounding {
  const Judge& judge;
  const Ground& ground;
  const LadderTerms& terms;
  double length_m = 0;
  double useful_speed_kmh = 0;
  PantographSet defective;
};

std::vector<AbleVehicle> able_vehicles(const Bounding& bounding) {
  const RunningTrain& train = bounding.judge.train();
  const PantographSet ordered = ordered_up(train, bounding.ground.fit, bounding.defective);
  std::vector<AbleVehicle> able;
  for (VehicleChoices& choices : choices_on(bounding.judge, bounding.ground)) {
    AbleVehicle vehicle{.index = static_cast<std::size_t>(choices.vehicle - train.vehicles.data()),
                        .choices = {},
                        .ordered = ordered.intersects(choices.vehicle->all),
                        .known = {}};
    std::erase_if(choices.sets, [&](PantographSet set) {
      return set.empty() || set.intersects(bounding.defective) ||
             !set.includes(ordered & choices.vehicle->all);
    });
    for (const PantographSet set : choices.sets) {
      for (const std::size_t p : set) {
        vehicle.foremost_m = std::min(vehicle.foremost_m, train.pantographs[p].from_front_m);
        vehicle.rearmost_m = std::max(vehicle.rearmost_m, train.pantographs[p].from_front_m);
      }
    }
    if (!choices.sets.empty()) {
      vehicle.choices = std::move(choices);
      able.push_back(std::move(vehicle));
    }
  }
  return able;
}

bool same(const VehicleRole& a, const VehicleRole& b) {
  return a.first_of_group == b.first_of_group && a.last_of_group == b.last_of_group &&
         a.banking == b.banking && a.protects == b.protects;
}

/// The cost that is the vehicle's own: what is left of it adds up over vehicles.
LadderCost own_cost(Verdict verdict, const Bounding& bounding) {
  verdict.put_dead = 0;
  verdict.leading_put_dead = false;
  verdict.consent_needed = false;
  verdict.facing_pairs = 0;
  verdict.least_distance_m = 0;
  verdict.speed_kmh = unlimited;
  return cost_of(verdict, bounding.length_m, bounding.terms);
}

const AtBest& at_best(const Bounding& bounding, AbleVehicle& vehicle, const VehicleRole& role,
                      PantographSet working) {
  for (const AtBest& known : vehicle.known) {
    if (same(known.role, role)) {
      return known;
    }
  }
  AtBest best;
  best.role = role;
  for (const PantographSet set : vehicle.choices.sets) {
    const Verdict verdict = bounding.judge.judge_part(bounding.ground, set, working);
    if (verdict.forbidden) {
      continue;
    }
    const LadderCost cost = own_cost(verdict, bounding);
    best.cost = best.possible ? std::min(best.cost, cost) : cost;
    best.possible = true;
    best.needs_consent = best.needs_consent && verdict.consent_needed;
    best.speed_kmh = std::max(best.speed_kmh, verdict.speed_kmh);
    best.exposed = std::min(
        best.exposed, std::pair<int, int>(verdict.exposed_dangerous, verdict.exposed_sensitive));
  }
  return vehicle.known.emplace_back(std::move(best));
}

/// The most favourable that is said of number and distance where so many vehicles work.
Verdict spacing_at_best(const Bounding& bounding, std::size_t number, double span_m) {
  const double distance_m = number < 2 ? span_m : span_m / static_cast<double>(number - 1);
  Verdict verdict = bounding.judge.judge_spacing(bounding.ground, number, distance_m);
  if (number == 1) {
    // A vehicle may have two up, and a consent may say more of two than is said of one.
    const Verdict two = bounding.judge.judge_spacing(bounding.ground, 2, distance_m);
    verdict.forbidden = verdict.forbidden && two.forbidden;
    verdict.consent_needed = verdict.consent_needed && two.consent_needed;
    verdict.speed_kmh = std::max(verdict.speed_kmh, two.speed_kmh);
  }
  return verdict;
}

/// Whether that many put dead alone already cost more than what is known.
bool is_beaten(const Bounding& bounding, std::size_t working,
               const std::optional<LadderCost>& known) {
  Verdict dead;
  for (const RunningVehicle& vehicle : bounding.judge.train().vehicles) {
    dead.put_dead = static_cast<std::uint16_t>(dead.put_dead + (vehicle.dead ? 0 : 1));
  }
  dead.put_dead = static_cast<std::uint16_t>(dead.put_dead - working);
  return known && *known < cost_of(dead, bounding.length_m, bounding.terms);
}

/// Where exactly these vehicles work; nothing if that is not permitted.
std::optional<LadderCost> least_with(const Bounding& bounding, std::vector<AbleVehicle>& able,
                                     std::uint32_t chosen) {
  const RunningTrain& train = bounding.judge.train();
  PantographSet working;
  double foremost_m = unlimited;
  double rearmost_m = 0;
  for (std::size_t i = 0; i < able.size(); ++i) {
    if ((chosen >> i & 1U) != 0) {
      working |= train.vehicles[able[i].index].all;
      foremost_m = std::min(foremost_m, able[i].foremost_m);
      rearmost_m = std::max(rearmost_m, able[i].rearmost_m);
    } else if (able[i].ordered) {
      return std::nullopt;
    }
  }
  const Verdict spacing = spacing_at_best(bounding, static_cast<std::size_t>(std::popcount(chosen)),
                                          rearmost_m - foremost_m);
  if (spacing.forbidden) {
    return std::nullopt;
  }
  // Who goes dead, whether that is permitted, and what holds of any train.
  Verdict whole = bounding.judge.judge_part(bounding.ground, {}, working);
  whole.consent_needed = whole.consent_needed || spacing.consent_needed;
  whole.speed_kmh = std::min({whole.speed_kmh, spacing.speed_kmh, bounding.useful_speed_kmh});
  if (whole.forbidden) {
    return std::nullopt;
  }
  const std::vector<VehicleRole>& roles = bounding.judge.roles(working);
  LadderCost cost;
  std::pair<int, int> exposed{0, 0};
  for (std::size_t i = 0; i < able.size(); ++i) {
    if ((chosen >> i & 1U) == 0) {
      continue;
    }
    const AtBest& best = at_best(bounding, able[i], roles[able[i].index], working);
    if (!best.possible) {
      return std::nullopt;
    }
    cost += best.cost;
    whole.consent_needed = whole.consent_needed || best.needs_consent;
    whole.speed_kmh = std::min(whole.speed_kmh, best.speed_kmh);
    exposed.first += best.exposed.first;
    exposed.second += best.exposed.second;
  }
  if (whole.put_dead > 0) {
    const std::int64_t metres = std::max<std::int64_t>(1, std::llround(bounding.length_m));
    cost[Rung::left_dangerous] = metres * exposed.first;
    cost[Rung::left_sensitive] = metres * exposed.second;
  }
  return cost + cost_of(whole, bounding.length_m, bounding.terms);
}

LadderCost least_on(const Bounding& bounding) {
  std::vector<AbleVehicle> able = able_vehicles(bounding);
  if (able.size() > most_vehicles_bounded) {
    return {};
  }
  std::vector<std::uint32_t> chosen(std::size_t{1} << able.size());
  for (std::uint32_t bits = 0; bits < chosen.size(); ++bits) {
    chosen[bits] = bits;
  }
  // Those with most vehicles first, since nothing below the first steps makes up for one put dead.
  std::ranges::stable_sort(chosen, std::greater(),
                           [](std::uint32_t bits) { return std::popcount(bits); });
  std::optional<LadderCost> least;
  for (const std::uint32_t bits : chosen) {
    const auto working = static_cast<std::size_t>(std::popcount(bits));
    if (working == 0 || is_beaten(bounding, working, least)) {
      break;  // the rest have no more
    }
    const auto cost = least_with(bounding, able, bits);
    if (cost && (!least || *cost < *least)) {
      least = cost;
    }
  }
  return least ? *least : cost_of_blocked(bounding.length_m);
}

}  // namespace

LadderCost least_cost(const PlanningCase& planning, PantographSet defective) {
  std::vector<LadderCost> of_pieces(planning.pieces.size());
  tbb::parallel_for(std::size_t{0}, planning.pieces.size(), [&](std::size_t i) {
    const Piece& piece = planning.pieces[i];
    if (piece.lowered) {
      of_pieces[i][Rung::time] =
          std::llround(3600 * piece.length_m() / planning.lowered_speed_kmh[i]);
      return;
    }
    of_pieces[i] = least_on({.judge = planning.judge(i),
                             .ground = planning.ground(i),
                             .terms = planning.terms,
                             .length_m = piece.length_m(),
                             .useful_speed_kmh = planning.useful_speed_kmh[i],
                             .defective = defective});
  });
  LadderCost sum;
  for (const LadderCost& cost : of_pieces) {
    sum += cost;
  }
  return sum;
}

}  // namespace panup
