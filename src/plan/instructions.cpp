#include "plan/instructions.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "plan/explain.h"
#include "plan/landmarks.h"

namespace panup {

namespace {

/// A speed that holds while the front of the train is between two places.
struct SpeedHold {
  double from_km = 0;
  double to_km = 0;
  double speed_kmh = 0;
  std::string reason;
};

/// What the functions below share: the way, and what has been written of it.
struct Writer {
  const PlanningCase& planning;
  const Way& way;
  std::vector<std::string>& notes;
  DriverTimes times;
  NamedPlaces places;
  std::size_t reached = 0;  ///< pieces the train can run on: those before the first blocked stretch
  double end_km = 0;        ///< where they end
  std::vector<Instruction> instructions;
  std::vector<SpeedHold> holds;
};

double km_in(double seconds, double speed_kmh) { return seconds * speed_kmh / 3600; }

PantographSet set_on(const Writer& writer, std::size_t piece) {
  return writer.way.raised[piece].value_or(PantographSet{});
}

double speed_of(const Writer& writer, std::size_t piece) {
  const PlanningCase& planning = writer.planning;
  if (planning.pieces[piece].lowered) {
    return planning.lowered_speed_kmh[piece];
  }
  return planning.judge(piece).judge(planning.ground(piece), set_on(writer, piece), {}).speed_kmh;
}

/// Offset behind the front of the train of the first and the last pantograph of a set, in km.
struct Reach {
  double first_km = 0;
  double last_km = 0;
};

Reach reach_of(const RunningTrain& train, PantographSet set) {
  Reach reach;
  bool first = true;
  for (const std::size_t p : train.front_first) {
    if (!set.contains(p)) {
      continue;
    }
    reach.last_km = train.pantographs[p].from_front_m / 1000;
    reach.first_km = first ? reach.last_km : reach.first_km;
    first = false;
  }
  return reach;
}

template <typename Value>
double greatest_time(const RunningTrain& train, PantographSet set, Value PantographType::*time) {
  double greatest = 0;
  for (const std::size_t p : set) {
    greatest = std::max(greatest, train.pantographs[p].type->*time);
  }
  return greatest;
}

std::string action_words(const Instruction& instruction, const std::string& which) {
  switch (instruction.action) {
    case Action::raise:
      return "Raise " + which;
    case Action::lower:
      return "Lower " + which;
    case Action::breaker_off:
      return "Breaker off";
    case Action::breaker_on:
      return "Breaker on";
    case Action::speed:
      return instruction.speed_kmh > 0 ? fmt::format("{:g} km/h from here", instruction.speed_kmh)
                                       : "Stop here at the latest";
    case Action::tow:
      return "Dead in tow";
    case Action::reverse:
      return "Reverse: the train leaves in the other direction";
  }
  return {};
}

void add(Writer& writer, std::size_t piece, double km, Action action, PantographSet set,
         const std::string& because, const std::string& if_not_possible) {
  const RunningTrain& train = writer.planning.judge(piece).train();
  Instruction instruction;
  instruction.at_km = km;
  instruction.action = action;
  instruction.pantographs = refs_of(train, set);
  const bool one_vehicle = std::ranges::all_of(instruction.pantographs, [&](PantographRef ref) {
    return ref.vehicle == instruction.pantographs.front().vehicle;
  });
  if (!instruction.pantographs.empty() && one_vehicle) {
    instruction.vehicle = instruction.pantographs.front().vehicle;
  }
  instruction.landmark = landmark_words(writer.places, km);
  instruction.if_not_possible = if_not_possible;
  instruction.text = fmt::format("{}{}{}{}.", action_words(instruction, list_of(train, set)),
                                 instruction.landmark.empty() ? "" : ", ", instruction.landmark,
                                 because.empty() ? "" : ": " + because);
  writer.instructions.push_back(std::move(instruction));
}

/// Orders the vehicles that go dead in tow from here and were not so before.
void add_tow(Writer& writer, std::size_t piece, double km, PantographSet before) {
  const RunningTrain& train = writer.planning.judge(piece).train();
  const PantographSet now = set_on(writer, piece);
  std::vector<int> numbers;
  for (const RunningVehicle& vehicle : train.vehicles) {
    const bool was_dead = !before.empty() && !before.intersects(vehicle.all);
    if (!now.empty() && !vehicle.dead && !now.intersects(vehicle.all) && !was_dead) {
      numbers.push_back(vehicle.number);
    }
  }
  if (numbers.empty()) {
    return;
  }
  std::ranges::sort(numbers);
  Instruction instruction;
  instruction.at_km = km;
  instruction.action = Action::tow;
  instruction.vehicle = numbers.size() == 1 ? numbers.front() : 0;
  instruction.landmark = landmark_words(writer.places, km);
  instruction.if_not_possible = "Do not raise others; stop at the next suitable place and report.";
  instruction.text = fmt::format(
      "{} {} dead in tow, pantographs down{}{}.", numbers.size() == 1 ? "Vehicle" : "Vehicles",
      fmt::format("{} {}", fmt::join(numbers, " and "), numbers.size() == 1 ? "goes" : "go"),
      instruction.landmark.empty() ? "" : ", ", instruction.landmark);
  writer.instructions.push_back(std::move(instruction));
}

const std::string not_raised_at_stand = "Do not depart; go by the fallback table.";

void change_at_stand(Writer& writer, std::size_t piece, PantographSet before) {
  const double km = writer.planning.pieces[piece].from_km;
  const PantographSet now = set_on(writer, piece);
  const PantographSet down = before - now;
  const PantographSet up = now - before;
  if (!down.empty()) {
    add(writer, piece, km, Action::breaker_off, {}, "", "Do not lower under current; report.");
    add(writer, piece, km, Action::lower, down, "", "Use the emergency lowering; report.");
  }
  add_tow(writer, piece, km, before);
  if (!up.empty()) {
    add(writer, piece, km, Action::raise, up, "", not_raised_at_stand);
  }
  if (!up.empty() || !down.empty()) {
    add(writer, piece, km, Action::breaker_on, {}, "", "Do not depart; report.");
  }
}

PantographSet help_at(const std::vector<StandHelp>& stands, std::size_t piece) {
  PantographSet help;
  for (const StandHelp& stand : stands) {
    help |= stand.piece == piece ? stand.raised : PantographSet{};
  }
  return help;
}

/// `entered`: the piece behind the stand; their number on arrival.
void raise_for_stand(Writer& writer, const std::vector<StandHelp>& stands, std::size_t entered) {
  const bool arrival = entered == writer.planning.pieces.size();
  const std::size_t piece = arrival ? entered - 1 : entered;
  const double km =
      arrival ? writer.planning.pieces.back().to_km : writer.planning.pieces[entered].from_km;
  for (const StandHelp& stand : stands) {
    if (stand.piece == entered) {
      add(writer, piece, km, Action::raise, stand.raised, stand.because,
          "Switch off heating and other loads until the rest carries what is drawn.");
    }
  }
}

void lower_after_stand(Writer& writer, std::size_t piece, PantographSet set) {
  if (set.empty()) {
    return;
  }
  const double km = writer.planning.pieces[piece].from_km;
  add(writer, piece, km, Action::breaker_off, {}, "before departure",
      "Do not lower under current; report.");
  add(writer, piece, km, Action::lower, set, "before departure, unless no other is up",
      "Do not depart; use the emergency lowering and report.");
  add(writer, piece, km, Action::breaker_on, {}, "", "Do not depart; report.");
}

void change_on_the_move(Writer& writer, std::size_t piece, PantographSet before) {
  const PlanningCase& planning = writer.planning;
  const RunningTrain& train = planning.judge(piece).train();
  const PantographSet now = set_on(writer, piece);
  const PantographSet up = now - before;
  const PantographSet down = before - now;
  const Rule& rule = *rule_in_force(planning.request->rules, RuleKind::change_on_the_move);
  double speed = *number_of(rule, "speed_kmh");
  for (const std::size_t either : {piece - 1, piece}) {
    speed = std::min(
        speed, planning.judge(either).judge(planning.ground(either), before | now, {}).speed_kmh);
  }
  const double start = planning.pieces[piece].from_km;
  double km = start;
  if (!up.empty()) {
    add(writer, piece, km, Action::raise, up,
        !down.empty() ? "on the move, before the others come down" : "on the move",
        "Keep what is up, stop at the next suitable place and report.");
    km = rounded_later(km + km_in(writer.times.reaction_s +
                                      greatest_time(train, up, &PantographType::raising_time_s),
                                  speed));
  }
  if (!down.empty()) {
    add(writer, piece, km, Action::breaker_off, {}, "",
        "Do not lower under current; stop, report.");
    km = rounded_later(km + km_in(writer.times.breaker_s, speed));
    add(writer, piece, km, Action::lower, down, "", "Stop at the next suitable place and report.");
    add_tow(writer, piece, km, before);
    km = rounded_later(km + km_in(writer.times.reaction_s +
                                      greatest_time(train, down, &PantographType::lowering_time_s),
                                  speed));
  }
  // Raised pantographs of a vehicle that was dead come alive with its breaker, too.
  add(writer, piece, km, Action::breaker_on, {}, "", "Stop at the next suitable place and report.");
  writer.holds.push_back({start, km, speed, "change of pantographs on the move"});
}

double last_stand_km(const Writer& writer, double before_km) {
  double km = writer.planning.pieces.front().from_km;
  for (const Stop& stop : writer.planning.request->route.stops) {
    km = stop.at_km < before_km ? std::max(km, stop.at_km) : km;
  }
  return km;
}

double next_stand_km(const Writer& writer, double after_km) {
  for (const Stop& stop : writer.planning.request->route.stops) {
    if (stop.at_km >= after_km) {
      return stop.at_km;
    }
  }
  return writer.end_km;
}

/// The train cannot be faster than it can have become since it stood.
double speed_near(const Writer& writer, double km, double speed_kmh) {
  const double room_m = 1000 * std::max(0.0, km - last_stand_km(writer, km));
  return std::min(speed_kmh,
                  3.6 * std::sqrt(2 * writer.planning.request->train.acceleration_ms2 * room_m));
}

/// `first` to `last`: the pieces with pantographs down.
void pass_lowered(Writer& writer, std::size_t first, std::size_t last) {
  const PlanningCase& planning = writer.planning;
  const RunningTrain& train = planning.judge(first).train();
  const Piece& zone = planning.pieces[first];
  const double start_km = zone.from_km;
  const double end_km = planning.pieces[last].to_km;
  const PantographSet before = first == 0 ? PantographSet{} : set_on(writer, first - 1);
  const PantographSet after =
      last + 1 < planning.pieces.size() ? set_on(writer, last + 1) : PantographSet{};
  double speed = planning.lowered_speed_kmh[first];
  for (std::size_t i = first; i <= last; ++i) {
    speed = std::min(speed, planning.lowered_speed_kmh[i]);
  }
  double hold_from = start_km;
  if (!before.empty()) {
    const double stand_km = last_stand_km(writer, start_km);
    const double v = speed_near(writer, start_km, speed);
    const double lower_km =
        start_km + reach_of(train, before).first_km -
        km_in(writer.times.reaction_s +
                  greatest_time(train, before, &PantographType::lowering_time_s),
              v);
    // The breaker's time counts from where the order to lower is given, which may be tied to a
    // landmark well before.
    const double tied_lower_km =
        std::max(stand_km, tied_earlier(writer.places, lower_km, stand_km));
    const double off_km =
        tied_lower_km - km_in(writer.times.reaction_s + writer.times.breaker_s, v);
    if (off_km <= stand_km) {
      writer.notes.push_back(fmt::format(
          "{} begins so soon after the stand at km {:.3f} that the pantographs would have "
          "to be down at once: the train could not start under power.",
          zone.lowered_for, stand_km));
    }
    const double off_at = std::max(stand_km, tied_earlier(writer.places, off_km, stand_km));
    const double lower_at = std::max(off_at, tied_lower_km);
    add(writer, first, off_at, Action::breaker_off, {}, zone.lowered_for,
        fmt::format("Stop before {}; do not enter it under power.", zone.lowered_for));
    add(writer, first, lower_at, Action::lower, before, zone.lowered_for,
        fmt::format("Stop before {} with the breaker open; do not enter with a pantograph up.",
                    zone.lowered_for));
    hold_from = off_at;
  }
  double hold_to = end_km;
  if (!after.empty()) {
    const double raise_km = tied_later(writer.places, end_km + reach_of(train, after).last_km,
                                       next_stand_km(writer, end_km));
    if (next_stand_km(writer, end_km) < raise_km && next_stand_km(writer, end_km) < writer.end_km) {
      writer.notes.push_back(fmt::format(
          "The train stands at km {:.3f} before its rearmost pantograph has left {}: it "
          "could not start under power.",
          next_stand_km(writer, end_km), zone.lowered_for));
    }
    add_tow(writer, last + 1, raise_km, before);
    add(writer, last + 1, raise_km, Action::raise, after, zone.lowered_for + " is behind",
        "Keep the breaker open, stop at the next suitable place, go by the fallback table.");
    hold_to = rounded_later(raise_km +
                            km_in(writer.times.reaction_s +
                                      greatest_time(train, after, &PantographType::raising_time_s),
                                  speed));
    add(writer, last + 1, hold_to, Action::breaker_on, {}, "",
        "Stop at the next suitable place and report.");
  }
  writer.holds.push_back({hold_from, hold_to, speed, "pantographs down for " + zone.lowered_for});
}

/// A separation section passed with pantographs up and the breaker open.
void pass_separation(Writer& writer, const SeparationSection& separation) {
  const PlanningCase& planning = writer.planning;
  const SeparationExtent extent = extent_of(separation);
  const double start_km = extent.from_km;
  const double end_km = extent.to_km;
  const auto piece_at = [&](double km) {
    std::size_t i = 0;
    while (i + 1 < planning.pieces.size() && planning.pieces[i].to_km <= km) {
      ++i;
    }
    return i;
  };
  const std::size_t entering = piece_at(start_km);
  const std::size_t leaving = piece_at(end_km);
  const PantographSet up = set_on(writer, entering);
  if (up.empty() || planning.pieces[entering].lowered) {
    return;  // pantographs are down, or nothing is permitted here
  }
  const RunningTrain& train = planning.judge(entering).train();
  const double v = speed_near(writer, start_km, speed_of(writer, entering));
  const double stand_km = last_stand_km(writer, start_km);
  const double off_km = start_km + reach_of(train, up).first_km -
                        km_in(writer.times.reaction_s + writer.times.breaker_s, v);
  const double on_km = end_km + reach_of(train, up).last_km;
  add(writer, entering, std::max(stand_km, tied_earlier(writer.places, off_km, stand_km)),
      Action::breaker_off, {}, separation.name,
      fmt::format("Stop before {}; do not enter it under power.", separation.name));
  add(writer, leaving, tied_later(writer.places, on_km, next_stand_km(writer, end_km)),
      Action::breaker_on, {}, separation.name + " is behind",
      "Stop at the next suitable place and report.");
}

void add_reversal(Writer& writer, std::size_t piece) {
  Instruction instruction;
  instruction.at_km = writer.planning.pieces[piece].from_km;
  instruction.action = Action::reverse;
  instruction.landmark = landmark_words(writer.places, instruction.at_km);
  instruction.if_not_possible = "Stay, and report.";
  instruction.text = fmt::format("{}{}{}.", action_words(instruction, {}),
                                 instruction.landmark.empty() ? "" : ", ", instruction.landmark);
  writer.instructions.push_back(std::move(instruction));
}

/// Speeds of the pieces hold until the whole train is out of them; a train that has turned round
/// stands with its new front at the border, and its length does not count.
void hold_speeds(Writer& writer) {
  const PlanningCase& planning = writer.planning;
  const double length_km = planning.judges[0].train().layout.length_m / 1000;
  for (std::size_t i = 0; i < writer.reached; ++i) {
    if (planning.pieces[i].lowered) {
      continue;
    }
    double until = planning.pieces[i].to_km + length_km;
    for (std::size_t j = i + 1; j < planning.pieces.size() && planning.pieces[j].from_km < until;
         ++j) {
      if (planning.pieces[j].entered_reversed) {
        until = planning.pieces[j].from_km;
      }
    }
    std::vector<Finding> findings;
    const Verdict verdict =
        planning.judge(i).judge(planning.ground(i), set_on(writer, i), {}, &findings);
    std::string reason;
    for (const Finding& finding : findings) {
      if (finding.strength == Strength::speed_limit && verdict.speed_rule != nullptr &&
          finding.rule == verdict.speed_rule->id) {
        reason = finding.text.substr(0, finding.text.find_last_not_of('.') + 1);
      }
    }
    writer.holds.push_back({planning.pieces[i].from_km, until, verdict.speed_kmh, reason});
  }
}

/// `before_others`: it comes before what else is ordered there.
void add_speed(Writer& writer, double km, double speed_kmh, const std::string& reason,
               bool before_others = false) {
  Instruction instruction;
  instruction.at_km = km;
  instruction.action = Action::speed;
  instruction.speed_kmh = speed_kmh;
  instruction.landmark = landmark_words(writer.places, km);
  instruction.text = fmt::format("{}{}{}{}.", action_words(instruction, {}),
                                 instruction.landmark.empty() ? "" : ", ", instruction.landmark,
                                 reason.empty() ? "" : ": " + reason);
  // Those of one place stay in the order in which they stand here.
  writer.instructions.insert(
      before_others ? writer.instructions.begin() : writer.instructions.end(),
      std::move(instruction));
}

/// Sweeps over the places where a hold begins or ends; a speed is ordered where the lowest of those
/// that hold changes.
void order_speeds(Writer& writer) {
  std::vector<SpeedHold>& holds = writer.holds;
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
    if (km >= writer.end_km) {
      break;
    }
    std::erase_if(active, [km](const SpeedHold* hold) { return hold->to_km <= km; });
    while (next < holds.size() && holds[next].from_km <= km) {
      if (holds[next].to_km > km) {
        active.push_back(&holds[next]);
      }
      ++next;
    }
    const auto lowest = std::ranges::min_element(active, {}, &SpeedHold::speed_kmh);
    if (lowest == active.end()) {
      ordered = 0;  // nothing is permitted here; the next speed is ordered anew
    } else if ((*lowest)->speed_kmh != ordered) {
      // Pantographs are lowered and raised at the lower speed.
      const bool slower = (*lowest)->speed_kmh < ordered;
      ordered = (*lowest)->speed_kmh;
      add_speed(writer, km, ordered, (*lowest)->reason, slower);
    }
  }
}

/// The pieces before the first blocked stretch; also those with pantographs down that lead into it
/// are not entered, since the train could not raise any behind them.
std::size_t pieces_reached(const PlanningCase& planning, const Way& way) {
  std::size_t reached = 0;
  while (reached < planning.pieces.size() &&
         (planning.pieces[reached].lowered || way.raised[reached] != blocked)) {
    ++reached;
  }
  while (reached > 0 && reached < planning.pieces.size() && planning.pieces[reached - 1].lowered) {
    --reached;
  }
  return reached;
}

}  // namespace

std::vector<Instruction> write_instructions(const PlanningCase& planning, const Way& way,
                                            const std::vector<StandHelp>& stands,
                                            std::vector<std::string>& notes) {
  const std::size_t reached = pieces_reached(planning, way);
  const bool to_the_end = reached == planning.pieces.size();
  Writer writer{
      .planning = planning,
      .way = way,
      .notes = notes,
      .times = driver_times(planning.request->rules),
      .places = named_places(planning.request->route,
                             driver_times(planning.request->rules).landmark_within_m),
      .reached = reached,
      .end_km = to_the_end ? planning.pieces.back().to_km : planning.pieces[reached].from_km,
      .instructions = {},
      .holds = {}};
  for (std::size_t i = 0; i < reached; ++i) {
    const Piece& piece = planning.pieces[i];
    if (piece.entered_reversed) {
      add_reversal(writer, i);
    }
    if (piece.lowered) {
      std::size_t last = i;
      while (last + 1 < reached && planning.pieces[last + 1].lowered) {
        ++last;
      }
      pass_lowered(writer, i, last);
      i = last;
      continue;
    }
    const bool was_lowered = i > 0 && planning.pieces[i - 1].lowered;
    if (i == 0 || (piece.entry == Passage::standstill && !was_lowered)) {
      const PantographSet before = i == 0 ? PantographSet{} : set_on(writer, i - 1);
      const PantographSet help = help_at(stands, i);
      if (i > 0) {
        raise_for_stand(writer, stands, i);
        change_at_stand(writer, i, before);
      } else {
        change_at_stand(writer, i, before);
        raise_for_stand(writer, stands, i);
      }
      lower_after_stand(writer, i, help - set_on(writer, i));
    } else if (piece.entry == Passage::on_the_move && way.raised[i] != way.raised[i - 1]) {
      change_on_the_move(writer, i, set_on(writer, i - 1));
    }
  }
  if (to_the_end) {
    raise_for_stand(writer, stands, reached);
  }
  for (const SeparationSection& separation : planning.request->route.separations) {
    if (!separation.pantograph_lowered && separation.breaker_off &&
        separation.from_km < writer.end_km) {
      pass_separation(writer, separation);
    }
  }
  hold_speeds(writer);
  order_speeds(writer);
  std::erase_if(writer.instructions, [&](const Instruction& instruction) {
    return !to_the_end && instruction.at_km >= writer.end_km;
  });
  if (!to_the_end) {
    add_speed(writer, writer.end_km, 0, "no permitted configuration beyond");
  }
  std::ranges::stable_sort(writer.instructions, {}, &Instruction::at_km);
  return std::move(writer.instructions);
}

}  // namespace panup
