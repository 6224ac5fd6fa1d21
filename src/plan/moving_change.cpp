#include "plan/moving_change.h"

#include <algorithm>

#include "plan/known_changes.h"

namespace panup {

namespace {

template <typename Value>
double greatest_time(const RunningTrain& train, PantographSet set, Value PantographType::*time) {
  double greatest = 0;
  for (const std::size_t p : set) {
    greatest = std::max(greatest, train.pantographs[p].type->*time);
  }
  return greatest;
}

/// At most two pantographs of each vehicle: where all sets worth considering are judged beforehand,
/// such ones are among them.
bool is_judged_beforehand(const PlanningCase& planning, std::size_t piece, PantographSet set) {
  return !planning.search && std::ranges::all_of(planning.judge(piece).train().vehicles,
                                                 [&](const RunningVehicle& vehicle) {
                                                   return (set & vehicle.all).size() <= 2;
                                                 });
}

std::optional<PassedState> as_passed(const Verdict& verdict) {
  return verdict.forbidden ? std::nullopt
                           : std::optional(PassedState{.consent_needed = verdict.consent_needed,
                                                       .facing_pairs = verdict.facing_pairs,
                                                       .speed_kmh = runnable_speed_kmh(verdict)});
}

/// What the rules say of a state on a piece; nothing if they forbid it.
std::optional<PassedState> state_on(const PlanningCase& planning, std::size_t piece,
                                    PantographSet set) {
  const std::size_t ground = planning.ground_of_piece[piece];
  if (const JudgedSet* const known = find_set(planning.grounds[ground], set)) {
    return as_passed(known->verdict);
  }
  if (is_judged_beforehand(planning, piece, set)) {
    return std::nullopt;
  }
  return planning.known_changes->state(ground, set, [&] {
    return as_passed(planning.judge(piece).judge(planning.ground(piece), set, {}));
  });
}

/// The steps where the pantographs in `first` change before the others.
std::vector<ChangeStep> steps_of(PantographSet first, PantographSet up, PantographSet down) {
  std::vector<ChangeStep> steps;
  for (const PantographSet all : {(up | down) & first, (up | down) - first}) {
    if (up.intersects(all)) {
      steps.push_back({.up = up & all, .down = {}});
    }
    if (down.intersects(all)) {
      steps.push_back({.up = {}, .down = down & all});
    }
  }
  return steps;
}

double length_km(const PlanningCase& planning, std::size_t piece,
                 const std::vector<ChangeStep>& steps, double speed_kmh) {
  constexpr double rounded_to_km = 0.01;
  double km = 0;
  for (const ChangeStep& step : steps) {
    const double seconds = !step.up.empty()
                               ? raising_s(planning, piece, step.up)
                               : opening_s(planning) + lowering_s(planning, piece, step.down);
    km += km_in(seconds, speed_kmh) + 2 * rounded_to_km;
  }
  return km;
}

/// Which of the vehicles that change do so before the others, each choice once: all together first.
/// Of many vehicles only the foremost or the rearmost go first: a change that needs another order
/// is taken for one that is not allowed.
std::vector<PantographSet> orders_of(const std::vector<PantographSet>& changed) {
  constexpr std::size_t few = 8;
  std::vector<PantographSet> orders{PantographSet{}};
  const std::size_t count = changed.size();
  if (count <= few) {
    for (std::size_t bits = 1; bits + 1 < std::size_t{1} << count; ++bits) {
      PantographSet& first = orders.emplace_back();
      for (std::size_t v = 0; v < count; ++v) {
        first |= (bits >> v & 1U) != 0 ? changed[v] : PantographSet{};
      }
    }
    return orders;
  }
  PantographSet all;
  for (const PantographSet vehicle : changed) {
    all |= vehicle;
  }
  PantographSet foremost;
  for (std::size_t v = 0; v + 1 < count; ++v) {
    foremost |= changed[v];
    orders.push_back(foremost);
    orders.push_back(all - foremost);
  }
  return orders;
}

/// A state while its train runs from the piece before `piece` until `end_km`.
struct Passing {
  const PlanningCase& planning;
  std::size_t piece = 0;
  double end_km = 0;
  int facing_pairs = 0;  ///< no more than these
};

/// Lowers the speed to what the state permits; false if it may not be.
bool may_pass(const Passing& passing, PantographSet state, double& speed_kmh) {
  const std::vector<Piece>& pieces = passing.planning.pieces;
  for (std::size_t i = passing.piece - 1; i < pieces.size() && pieces[i].from_km < passing.end_km;
       ++i) {
    const std::optional<PassedState> passed = state_on(passing.planning, i, state);
    if (!passed || passed->consent_needed || passed->facing_pairs > passing.facing_pairs) {
      return false;
    }
    speed_kmh = std::min(speed_kmh, passed->speed_kmh);
  }
  return true;
}

std::optional<MovingChange> change_by(const PlanningCase& planning, std::size_t piece,
                                      PantographSet from, int facing_pairs,
                                      std::vector<ChangeStep> steps) {
  const Piece& entered = planning.pieces[piece];
  double speed_kmh = planning.change_speed_kmh;
  const double length = length_km(planning, piece, steps, speed_kmh);
  if (length > entered.change_room_km) {
    return std::nullopt;
  }
  const Passing passing{planning, piece, entered.from_km + length, facing_pairs};
  PantographSet state = from;
  for (const ChangeStep& step : steps) {
    // While some rise or come down, all of them may touch the wire.
    state |= step.up;
    if (!may_pass(passing, state, speed_kmh)) {
      return std::nullopt;
    }
    state -= step.down;
  }
  return MovingChange{.steps = std::move(steps), .speed_kmh = speed_kmh};
}

std::optional<MovingChange> find_change(const PlanningCase& planning, std::size_t piece,
                                        PantographSet from, PantographSet to) {
  const PantographSet up = to - from;
  const PantographSet down = from - to;
  int facing_pairs = 0;
  for (const auto& [at, set] : {std::pair(piece - 1, from), std::pair(piece, to)}) {
    const std::optional<PassedState> state = state_on(planning, at, set);
    if (!state) {
      return std::nullopt;
    }
    facing_pairs = std::max<int>(facing_pairs, state->facing_pairs);
  }
  std::vector<PantographSet> changed;
  for (const RunningVehicle& vehicle : planning.judge(piece).train().vehicles) {
    if ((up | down).intersects(vehicle.all)) {
      changed.push_back(vehicle.all);
    }
  }
  for (const PantographSet first : orders_of(changed)) {
    // Where all change together they rise before any comes down.
    const PantographSet rises = first.empty() ? up : up & first;
    // Most are ruled out by the first state alone, which is looked up.
    if (!state_on(planning, piece - 1, from | rises) || !state_on(planning, piece, from | rises)) {
      continue;
    }
    if (auto change = change_by(planning, piece, from, facing_pairs, steps_of(first, up, down))) {
      return change;
    }
  }
  return std::nullopt;
}

}  // namespace

double lowering_s(const PlanningCase& planning, std::size_t piece, PantographSet set) {
  return planning.times.reaction_s +
         greatest_time(planning.judge(piece).train(), set, &PantographType::lowering_time_s);
}

double raising_s(const PlanningCase& planning, std::size_t piece, PantographSet set) {
  return planning.times.reaction_s +
         greatest_time(planning.judge(piece).train(), set, &PantographType::raising_time_s);
}

double opening_s(const PlanningCase& planning) {
  return planning.times.reaction_s + planning.times.breaker_s;
}

std::optional<MovingChange> moving_change(const PlanningCase& planning, std::size_t piece,
                                          PantographSet from, PantographSet to) {
  return planning.known_changes->change(piece, from, to,
                                        [&] { return find_change(planning, piece, from, to); });
}

}  // namespace panup
