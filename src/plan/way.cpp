#include "plan/way.h"

#include <algorithm>
#include <cmath>

#include "plan/moving_change.h"
#include "plan/put_dead_choice.h"
#include "plan/stopped.h"

namespace panup {

namespace {

/// A configuration on a piece, with the cost from the beginning of the piece to the end of route.
struct Node {
  RaisedOrBlocked raised;
  double speed_kmh = 0;
  double power_share = 1;
  LadderCost cost;
  std::size_t next = 0;           ///< index of the node on the next piece
  std::size_t first_blocked = 0;  ///< piece
};

/// What of a node is kept after the search has passed on.
struct Kept {
  RaisedOrBlocked raised;
  std::uint32_t next = 0;
};

double length_of(const PlanningCase& planning) {
  return planning.judges[0].train().layout.length_m;
}

/// The last piece before or at `piece` where pantographs are up.
std::size_t last_raised_piece(const PlanningCase& planning, std::size_t piece) {
  while (piece > 0 && planning.pieces[piece].lowered) {
    --piece;
  }
  return piece;
}

double timed(const PlanningCase& planning, std::size_t piece, double permitted_kmh) {
  return std::min(permitted_kmh, planning.useful_speed_kmh[piece]);
}

LadderCost timed_cost(const PlanningCase& planning, const LadderTerms& terms, std::size_t piece,
                      JudgedSet judged, const PutDeadChoice& choice) {
  const double length_m = planning.pieces[piece].length_m();
  judged.verdict.speed_kmh = timed(planning, piece, judged.verdict.speed_kmh);
  return cost_of(judged.verdict, length_m, terms) + choice.cost_of(judged, length_m);
}

/// What the rules say of it on a piece with pantographs up, also where it is no candidate.
Verdict verdict_on(const PlanningCase& planning, std::size_t piece, PantographSet raised) {
  const JudgedSet* const known = find_set(planning.sets_on(piece), raised);
  return known != nullptr ? known->verdict
                          : planning.judge(piece).judge(planning.ground(piece), raised, {});
}

/// Whether `raised` may stand up at the beginning of piece `i + 1` with the train still on piece
/// `i`.
bool may_stand_up(const PlanningCase& planning, std::size_t i, RaisedOrBlocked raised) {
  if (raised == blocked || planning.pieces[i].lowered) {
    return true;
  }
  if (planning.pieces[i].reversed == planning.pieces[i + 1].reversed) {
    const auto& sets = planning.sets_on(i);
    if (find_set(sets, *raised) != nullptr) {
      return true;
    }
  }
  return !planning.judge(i + 1).judge(planning.ground(i), *raised, {}).forbidden;
}

/// Whether the next piece is another one only for the wire over the rear of the train: a train that
/// may go no farther there cannot go on a few metres behind with something else.
bool is_cut_by_tail(const PlanningCase& planning, std::size_t i) {
  const Piece& piece = planning.pieces[i];
  const Piece& next = planning.pieces[i + 1];
  return piece.section == next.section && piece.iced == next.iced &&
         piece.separations == next.separations && piece.low_places == next.low_places;
}

/// Whether what is up on piece `i` may stay up until it comes to the zone that begins behind it:
/// its pantographs may be far behind the front, and come under wire on their way there that the
/// front passed while others were up.
bool may_run_to_zone(const PlanningCase& planning, std::size_t i, PantographSet raised) {
  const Piece& piece = planning.pieces[i];
  if (piece.lowered || !planning.pieces[i + 1].tail_matters) {
    return true;
  }
  const Judge& judge = planning.judge(i);
  const double length_km = length_of(planning) / 1000;
  const double zone_km = piece.to_km;
  const auto passes = [&](std::size_t p, const Section& section) {
    const double behind_km = judge.train().pantographs[p].from_front_m / 1000;
    const double from_km = zone_km - behind_km;
    const bool ahead =
        section.to_km > std::max(from_km, piece.leg.turned ? piece.leg.start_km : from_km) &&
        section.from_km < zone_km;
    const bool under_the_train =
        piece.leg.turned && from_km < piece.leg.start_km &&
        section.to_km > piece.leg.start_km - length_km &&
        section.from_km < place_km(piece.leg, length_km, behind_km, zone_km);
    return ahead || under_the_train;
  };
  for (const Section& section : planning.request->route.sections) {
    PantographSet passing;
    for (const std::size_t p : raised) {
      if (passes(p, section)) {
        passing.insert(p);
      }
    }
    if (!passing.empty() &&
        judge
            .judge(judge.ground(planning.section(i), piece.iced, {}, {{&section, passing}}), raised,
                   {})
            .forbidden) {
      return false;
    }
  }
  return true;
}

LadderCost time_cost(std::int64_t milliseconds) {
  LadderCost cost;
  cost[Rung::time] = milliseconds;
  return cost;
}

/// What is up, how fast the train runs with it, and with how much of its power.
struct Running {
  RaisedOrBlocked raised;
  double speed_kmh = 0;
  double power_share = 1;
};

std::int64_t lost(const PlanningCase& planning, double from_kmh, const Running& after) {
  return time_lost_ms(planning.request->train, length_of(planning), from_kmh, after.speed_kmh,
                      after.power_share);
}

/// The same with `at_kmh` as the greatest speed at the border.
std::int64_t lost_at(const PlanningCase& planning, double from_kmh, double at_kmh,
                     const Running& after) {
  const double lowest_kmh = std::min(from_kmh, at_kmh);
  return lost(planning, from_kmh, {.raised = {}, .speed_kmh = lowest_kmh}) +
         lost(planning, lowest_kmh, after);
}

bool may_change_at_stop(const PlanningCase& planning) {
  return rule_in_force(planning.request->rules, RuleKind::change_at_stop) != nullptr;
}

std::optional<LadderCost> passage_between(const PlanningCase& planning, std::size_t i,
                                          Running before, Running after) {
  const RaisedOrBlocked& from = before.raised;
  const RaisedOrBlocked& to = after.raised;
  const double v = before.speed_kmh;
  const bool changes = from != to && from != blocked && to != blocked;
  const bool turns = planning.pieces[i + 1].entered_reversed;
  switch (planning.pieces[i + 1].entry) {
    case Passage::joined:
      if (planning.pieces[i + 1].lowered && from != blocked) {
        // What was up is kept in mind while all are down.
        return to == from && may_run_to_zone(planning, i, *from)
                   ? std::optional(time_cost(lost(planning, v, after)))
                   : std::nullopt;
      }
      if (changes || (from == blocked && to != blocked && is_cut_by_tail(planning, i))) {
        return std::nullopt;
      }
      return time_cost(lost(planning, v, after));
    case Passage::lowered: {
      LadderCost cost = time_cost(lost(planning, v, after));
      cost[Rung::standing_changes] = changes ? 1 : 0;
      return cost;
    }
    case Passage::standstill: {
      if ((changes && !may_change_at_stop(planning)) ||
          ((from != to || turns) && !may_stand_up(planning, i, to))) {
        return std::nullopt;
      }
      LadderCost cost = time_cost(lost_at(planning, v, 0, after));
      cost[Rung::standing_changes] = changes ? 1 : 0;
      return cost;
    }
    case Passage::on_the_move: {
      if (!changes) {
        return time_cost(lost(planning, v, after));
      }
      const std::optional<MovingChange> change = moving_change(planning, i + 1, *from, *to);
      if (!change) {
        return std::nullopt;
      }
      LadderCost cost = time_cost(lost_at(planning, v, change->speed_kmh, after));
      cost[Rung::moving_changes] = 1;
      return cost;
    }
  }
  return std::nullopt;
}

/// The nodes of a piece, without cost to go: what may be up there, and `blocked` last.
std::vector<Node> nodes_on(const PlanningCase& planning, const LadderTerms& terms,
                           std::size_t piece, PantographSet defective,
                           const std::optional<Forced>& forced) {
  const std::size_t judged_on = last_raised_piece(planning, piece);
  const PutDeadChoice choice(planning.judge(piece).train(), planning.sets_on(piece), defective);
  std::vector<Node> nodes;
  const auto add = [&](RaisedOrBlocked raised) {
    nodes.push_back({.raised = raised,
                     .speed_kmh = timing_speed_kmh(planning, piece, raised),
                     .power_share = power_share(planning, piece, raised),
                     .cost = piece_cost(planning, piece, raised, defective),
                     .next = 0,
                     .first_blocked = 0});
  };
  if (forced && forced->piece == piece) {
    add(forced->raised);
    return nodes;
  }
  for (const JudgedSet& judged : planning.sets_on(judged_on)) {
    if (judged.raised.intersects(defective)) {
      continue;
    }
    if (judged_on != piece) {
      add(judged.raised);
      continue;
    }
    nodes.push_back({.raised = judged.raised,
                     .speed_kmh = timed(planning, piece, judged.verdict.speed_kmh),
                     .power_share = judged.verdict.power_share,
                     .cost = timed_cost(planning, terms, piece, judged, choice),
                     .next = 0,
                     .first_blocked = 0});
  }
  if (forced && forced->piece == judged_on) {
    nodes.clear();
    add(forced->raised);
  }
  add(blocked);
  return nodes;
}

std::optional<std::size_t> index_of(const std::vector<Node>& nodes, RaisedOrBlocked raised) {
  const auto blocked_last = [](const RaisedOrBlocked& a, const RaisedOrBlocked& b) {
    return a && (!b || *a < *b);
  };
  const auto found = std::ranges::lower_bound(nodes, raised, blocked_last, &Node::raised);
  if (found == nodes.end() || found->raised != raised) {
    return std::nullopt;
  }
  return static_cast<std::size_t>(found - nodes.begin());
}

/// The cheapest successors, one for each speed and power (lemma 3).
std::vector<std::size_t> best_by_speed(const std::vector<Node>& nodes,
                                       const std::vector<bool>& allowed) {
  std::vector<std::size_t> best;
  for (std::size_t j = 0; j < nodes.size(); ++j) {
    if (!allowed[j]) {
      continue;
    }
    const auto same = std::ranges::find_if(best, [&](std::size_t k) {
      return nodes[k].speed_kmh == nodes[j].speed_kmh &&
             nodes[k].power_share == nodes[j].power_share;
    });
    if (same == best.end()) {
      best.push_back(j);
    } else if (nodes[j].cost < nodes[*same].cost) {
      *same = j;
    }
  }
  return best;
}

/// Successors worth trying from any node of piece `i`, its own configuration aside (lemma 2).
struct Successors {
  std::vector<std::size_t> for_any;      ///< from a permitted configuration
  std::vector<std::size_t> for_blocked;  ///< from a blocked stretch
};

Successors successors(const PlanningCase& planning, std::size_t i, const std::vector<Node>& next) {
  Successors all;
  const Passage entry = planning.pieces[i + 1].entry;
  std::vector<bool> allowed(next.size(), true);
  if (entry == Passage::standstill) {
    for (std::size_t j = 0; j < next.size(); ++j) {
      allowed[j] = may_stand_up(planning, i, next[j].raised);
    }
  }
  all.for_blocked = best_by_speed(next, allowed);
  if (entry == Passage::on_the_move) {
    // Cheapest first, so that the search can stop (lemma 4).
    all.for_any.resize(next.size());
    for (std::size_t j = 0; j < next.size(); ++j) {
      all.for_any[j] = j;
    }
    std::ranges::stable_sort(
        all.for_any, [&](std::size_t a, std::size_t b) { return next[a].cost < next[b].cost; });
  } else if (entry == Passage::lowered ||
             (entry == Passage::standstill && may_change_at_stop(planning))) {
    all.for_any = all.for_blocked;
  } else {
    all.for_any = {next.size() - 1};  // to a blocked stretch
  }
  return all;
}

void connect(const PlanningCase& planning, std::size_t i, Node& node, const std::vector<Node>& next,
             const Successors& successors) {
  std::optional<LadderCost> best;
  std::size_t best_index = 0;
  const auto consider = [&](std::size_t j) {
    const auto passage =
        passage_between(planning, i, {node.raised, node.speed_kmh, node.power_share},
                        {next[j].raised, next[j].speed_kmh, next[j].power_share});
    if (!passage) {
      return;
    }
    const LadderCost cost = *passage + next[j].cost;
    if (!best || cost < *best) {
      best = cost;
      best_index = j;
    }
  };
  if (const auto same = index_of(next, node.raised)) {
    consider(*same);
  }
  for (const std::size_t j : node.raised == blocked ? successors.for_blocked : successors.for_any) {
    if (best && !(next[j].cost < *best) && planning.pieces[i + 1].entry == Passage::on_the_move) {
      break;  // lemma 4
    }
    consider(j);
  }
  if (!best) {
    // Where the next configuration is forced and may not follow on this one, or this one may not
    // stay up until it comes to a lowered stretch: as if the train were blocked here, so that the
    // ladder says so.
    best_index = next.size() - 1;
    best = cost_of_blocked(planning.pieces[i].length_m()) + next[best_index].cost;
  }
  node.cost += *best;
  node.next = best_index;
  const bool is_blocked = node.raised == blocked && !planning.pieces[i].lowered;
  node.first_blocked = is_blocked ? i : next[best_index].first_blocked;
}

}  // namespace

std::int64_t time_lost_ms(const Train& train, double train_length_m, double from_kmh, double to_kmh,
                          double power_share) {
  const double v = from_kmh / 3.6;
  const double w = to_kmh / 3.6;
  double seconds = 0;
  if (w < v) {
    seconds = (v - w) * (v - w) / (2 * train.braking_ms2 * v);
  } else if (w > v) {
    seconds = (w - v) * (w - v) / (2 * power_share * train.acceleration_ms2 * w);
    if (v > 0) {
      seconds += train_length_m * (1 / v - 1 / w);
    }
  }
  return std::llround(1000 * seconds);
}

std::optional<LadderCost> passage_cost(const PlanningCase& planning, std::size_t i,
                                       RaisedOrBlocked from, RaisedOrBlocked to) {
  const auto running = [&](std::size_t piece, RaisedOrBlocked raised) {
    return Running{raised, timing_speed_kmh(planning, piece, raised),
                   power_share(planning, piece, raised)};
  };
  return passage_between(planning, i, running(i, from), running(i + 1, to));
}

double timing_speed_kmh(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised) {
  if (planning.pieces[piece].lowered) {
    return planning.lowered_speed_kmh[piece];
  }
  return timed(planning, piece,
               raised == blocked ? planning.section(piece).line_speed_kmh
                                 : verdict_on(planning, piece, *raised).speed_kmh);
}

double power_share(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised) {
  return planning.pieces[piece].lowered || raised == blocked
             ? 1
             : verdict_on(planning, piece, *raised).power_share;
}

LadderCost piece_cost(const PlanningCase& planning, std::size_t piece, RaisedOrBlocked raised,
                      PantographSet defective) {
  const double length_m = planning.pieces[piece].length_m();
  if (planning.pieces[piece].lowered) {
    return time_cost(std::llround(3600 * length_m / planning.lowered_speed_kmh[piece]));
  }
  if (raised == blocked) {
    return cost_of_blocked(length_m);
  }
  return timed_cost(
      planning, planning.terms, piece, {*raised, verdict_on(planning, piece, *raised)},
      PutDeadChoice(planning.judge(piece).train(), planning.sets_on(piece), defective));
}

std::vector<PieceCost> piece_costs(const PlanningCase& planning, std::size_t piece,
                                   PantographSet defective) {
  const PutDeadChoice choice(planning.judge(piece).train(), planning.sets_on(piece), defective);
  std::vector<PieceCost> costs;
  for (const JudgedSet& judged : planning.sets_on(piece)) {
    if (!judged.raised.intersects(defective)) {
      costs.push_back({judged.raised, timed_cost(planning, planning.terms, piece, judged, choice)});
    }
  }
  return costs;
}

std::int64_t time_lost_to_power_ms(const PlanningCase& planning, const Way& way,
                                   std::size_t piece) {
  Running after{way.raised[piece], timing_speed_kmh(planning, piece, way.raised[piece]),
                power_share(planning, piece, way.raised[piece])};
  const auto entering = [&] {
    if (piece == 0) {
      return lost(planning, 0, after);
    }
    const Running before{way.raised[piece - 1],
                         timing_speed_kmh(planning, piece - 1, way.raised[piece - 1]), 1};
    const auto cost = passage_between(planning, piece - 1, before, after);
    return cost ? (*cost)[Rung::time] : 0;
  };
  const std::int64_t limited = entering();
  after.power_share = 1;
  return limited - entering();
}

bool stops_before_lowered(const PlanningCase& planning, const Way& way, std::size_t piece) {
  return piece > 0 && planning.pieces[piece].lowered && !planning.pieces[piece - 1].lowered &&
         way.raised[piece] == blocked && way.raised[piece - 1] != blocked;
}

namespace {

Way find_way_by(const LadderTerms& terms, const PlanningCase& planning, PantographSet defective,
                const std::optional<Forced>& forced) {
  const std::size_t count = planning.pieces.size();
  Way way;
  way.raised.resize(count);
  way.after_stand.resize(count);
  way.after_stand_blocked.resize(count);
  std::vector<std::vector<Kept>> kept(count);
  std::vector<Node> next;
  std::size_t start = 0;
  for (std::size_t i = count; i-- > 0;) {
    std::vector<Node> nodes = nodes_on(planning, terms, i, defective, forced);
    if (i + 1 < count) {
      const Successors all = successors(planning, i, next);
      for (Node& node : nodes) {
        end_if_stopped(*planning.request);
        connect(planning, i, node, next, all);
      }
    } else {
      for (Node& node : nodes) {
        const bool is_blocked = node.raised == blocked && !planning.pieces[i].lowered;
        node.first_blocked = is_blocked ? i : count;
        node.cost += time_cost(lost(planning, node.speed_kmh, {.raised = {}, .speed_kmh = 0}));
      }
    }
    const auto from_stand = [&](const Node& node) {
      return node.cost +
             time_cost(lost(planning, 0, {node.raised, node.speed_kmh, node.power_share}));
    };
    start = 0;
    for (std::size_t j = 1; j < nodes.size(); ++j) {
      if (from_stand(nodes[j]) < from_stand(nodes[start])) {
        start = j;
      }
    }
    way.after_stand[i] = nodes[start].raised;
    way.after_stand_blocked[i] = nodes[start].first_blocked;
    way.cost = from_stand(nodes[start]);
    kept[i].reserve(nodes.size());
    for (const Node& node : nodes) {
      kept[i].push_back({node.raised, static_cast<std::uint32_t>(node.next)});
    }
    next = std::move(nodes);
  }
  for (std::size_t i = 0; i < count; ++i) {
    way.raised[i] = kept[i][start].raised;
    start = kept[i][start].next;
  }
  return way;
}

}  // namespace

Way find_way(const PlanningCase& planning, PantographSet defective, std::optional<Forced> forced) {
  return find_way_by(planning.terms, planning, defective, forced);
}

Way find_way_with_consents(const PlanningCase& planning, PantographSet defective) {
  LadderTerms terms = planning.terms;
  terms.consents_granted = true;
  return find_way_by(terms, planning, defective, std::nullopt);
}

}  // namespace panup
