#include "plan/in_the_way.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "plan/explain.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

bool is_forbidden(const PlanningCase& planning, std::size_t piece, PantographSet set) {
  return find_set(planning.sets_on(piece), set) == nullptr &&
         planning.judge(piece).judge(planning.ground(piece), set, {}).forbidden;
}

/// Follows sets from a piece, one piece at a time.
struct Follower {
  const PlanningCase& planning;
  PantographSet defective;
  const Way* way = nullptr;
  Rung step = Rung::blocked;

  /// The rung at which a set may not be up on a piece; nothing if it may.
  std::optional<Rung> ends_on(std::size_t piece, PantographSet set) const {
    if (is_forbidden(planning, piece, set)) {
      return Rung::blocked;
    }
    const bool compared =
        way != nullptr && way->raised[piece] != blocked && *way->raised[piece] != set;
    if (!compared) {
      return std::nullopt;
    }
    const LadderCost cost = piece_cost(planning, piece, set, defective);
    const LadderCost chosen = piece_cost(planning, piece, way->raised[piece], defective);
    const Rung rung = where_they_part(chosen, cost);
    return chosen < cost && rung <= step ? std::optional(rung) : std::nullopt;
  }

  /// Whether something else may be up on the other side of the border before piece `next`, where
  /// the set is up on this one: in front of it if it came there from `next`, else behind.
  bool may_change(std::size_t next, PantographSet set, bool ahead) const {
    const std::size_t beyond = ahead ? next : next - 1;
    if (planning.pieces[beyond].lowered) {
      return !ahead || passage_cost(planning, next - 1, set, set).has_value();
    }
    if (planning.pieces[next].entry == Passage::joined) {
      return false;
    }
    return std::ranges::any_of(planning.sets_on(beyond), [&](const JudgedSet& other) {
      return other.raised != set && !other.raised.intersects(defective) &&
             (ahead ? passage_cost(planning, next - 1, set, other.raised)
                    : passage_cost(planning, next - 1, other.raised, set))
                 .has_value();
    });
  }

  /// Lets go of the sets that end beyond the border before piece `next`. Tells the first of them,
  /// if none of `alive` is left; moves those that may be changed there to `free`.
  std::optional<InTheWay> cross(std::size_t next, bool ahead, std::vector<PantographSet>& alive,
                                std::vector<PantographSet>& free) const {
    const std::size_t beyond = ahead ? next : next - 1;
    std::vector<PantographSet> left;
    std::optional<InTheWay> first;
    for (const PantographSet set : alive) {
      if (may_change(next, set, ahead)) {
        free.push_back(set);
        continue;
      }
      const std::optional<Rung> ends =
          planning.pieces[beyond].lowered ? Rung::blocked : ends_on(beyond, set);
      if (!ends) {
        left.push_back(set);
      } else if (!first) {
        first = {.piece = beyond, .ahead = ahead, .raised = set, .rung = *ends};
      }
    }
    alive = std::move(left);
    return alive.empty() && free.empty() ? first : std::nullopt;
  }

  /// Keeps of `sets` those that come to a place where they may be changed, or to the end.
  std::optional<InTheWay> follow(std::size_t piece, bool ahead,
                                 std::vector<PantographSet>& sets) const {
    std::vector<PantographSet> alive = std::move(sets);
    sets.clear();
    const std::size_t last = ahead ? planning.pieces.size() - 1 : 0;
    for (std::size_t at = piece; at != last && !alive.empty(); at = ahead ? at + 1 : at - 1) {
      if (auto found = cross(ahead ? at + 1 : at, ahead, alive, sets)) {
        return found;
      }
    }
    std::ranges::copy(alive, std::back_inserter(sets));
    return std::nullopt;
  }
};

bool is_of_separation(const Rule& rule) {
  return rule.kind == RuleKind::zones_joined || rule.kind == RuleKind::separation_length ||
         rule.kind == RuleKind::separation_unknown;
}

std::string place_words(const PlanningCase& planning, std::size_t piece, const Finding* forbids) {
  const Rule* const rule =
      forbids == nullptr ? nullptr : find_rule(planning.request->rules, forbids->rule);
  if (rule != nullptr && is_of_separation(*rule)) {
    for (const std::size_t i : planning.pieces[piece].separations) {
      const SeparationSection& separation = planning.request->route.separations[i];
      if (forbids->text.find(separation.name) != std::string::npos) {
        return planning.words().say("{} at km {:.3f}", separation.name, separation.from_km);
      }
    }
  }
  const Section& section = planning.section(piece);
  return planning.words().say("section {} (km {:.3f} to {:.3f})", section.id, section.from_km,
                              section.to_km);
}

/// The first thing of this strength that the rules say of a set on a piece; nothing if there is
/// none.
std::optional<Finding> first_said(const PlanningCase& planning, std::size_t piece,
                                  PantographSet raised, PantographSet defective,
                                  Strength strength) {
  std::vector<Finding> said;
  planning.judge(piece).judge(planning.ground(piece), raised, defective, &said);
  const auto found = std::ranges::find(said, strength, &Finding::strength);
  return found == said.end() ? std::nullopt : std::optional(*found);
}

std::optional<Finding> forbidding(const PlanningCase& planning, std::size_t piece,
                                  PantographSet raised, PantographSet defective) {
  return first_said(planning, piece, raised, defective, Strength::forbidden);
}

/// The steps of the ladder at which something is accepted that practice wants to avoid.
constexpr std::array accepted_at{
    Rung::consent_first,     Rung::put_dead,          Rung::facing_pair,
    Rung::left_dangerous,    Rung::left_sensitive,    Rung::leading_points,
    Rung::exposed_dangerous, Rung::exposed_sensitive, Rung::consent_last_resort,
    Rung::banking_points,    Rung::following_points,  Rung::pattern};

/// Whether a finding says what is accepted at a step.
bool speaks_of(const RuleBook& rules, const Finding& finding, Rung rung) {
  const Rule* const rule = find_rule(rules, finding.rule);
  if (rung == Rung::consent_first || rung == Rung::consent_last_resort) {
    return finding.strength == Strength::consent_needed;
  }
  if (rule == nullptr) {
    return false;
  }
  switch (rung) {
    case Rung::put_dead:
      return rule->kind == RuleKind::put_dead_in_tow && finding.strength == Strength::last_resort;
    case Rung::facing_pair:
      return rule->kind == RuleKind::facing_pair && finding.strength == Strength::last_resort;
    case Rung::leading_points:
    case Rung::banking_points:
    case Rung::following_points:
      return finding.kept == false &&
             (rule->kind == RuleKind::contact_points || rule->kind == RuleKind::ice_pantographs) &&
             rule->words.at("place") == (rung == Rung::following_points ? "following" : "leading");
    case Rung::pattern:
      return finding.kept == false && rule->kind == RuleKind::prescribed_position;
    default:
      return finding.kept == false && rule->kind == RuleKind::load_protection;
  }
}

/// The sets that are better on the piece by itself at this step, the best first.
std::vector<PantographSet> better_at(const PlanningCase& planning, std::size_t piece,
                                     const LadderCost& chosen, Rung rung, PantographSet defective) {
  std::vector<std::pair<LadderCost, PantographSet>> better;
  for (const PieceCost& one : piece_costs(planning, piece, defective)) {
    if (one.cost < chosen && where_they_part(one.cost, chosen) == rung) {
      better.emplace_back(one.cost, one.raised);
    }
  }
  std::ranges::stable_sort(better, {}, [](const auto& one) { return one.first; });
  std::vector<PantographSet> sets;
  for (const auto& one : better) {
    sets.push_back(one.second);
  }
  return sets;
}

/// What would be better at this step if consents did not count, and what asks for the consent;
/// empty if nothing would.
std::string words_for_consent(const PlanningCase& planning, std::size_t piece,
                              const LadderCost& chosen, Rung rung, PantographSet defective) {
  std::optional<PieceCost> best;
  for (const PieceCost& one : piece_costs(planning, piece, defective)) {
    const LadderCost cost = without_consents(one.cost);
    if (cost < without_consents(chosen) &&
        where_they_part(cost, without_consents(chosen)) == rung && (!best || cost < best->cost)) {
      best = PieceCost{one.raised, cost};
    }
  }
  const auto asks =
      best ? first_said(planning, piece, best->raised, defective, Strength::consent_needed)
           : std::nullopt;
  return asks ? planning.words().say(
                    " In the way of {}: a consent that nobody has named. {} (rule {}; {})",
                    list_of(planning.judge(piece).train(), best->raised), asks->text, asks->rule,
                    place_words(planning, piece, &*asks))
              : std::string();
}

/// What would be up on the piece without the last resort, and is ruled out on it: with each sound
/// pantograph of the vehicles that are dead as well, or as prescribed.
std::vector<PantographSet> without_resort(const PlanningCase& planning, std::size_t piece,
                                          PantographSet raised, Rung rung,
                                          PantographSet defective) {
  const Judge& judge = planning.judge(piece);
  const RunningTrain& train = judge.train();
  PantographSet able;
  std::vector<PantographSet> sets;
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (vehicle.dead) {
      continue;
    }
    able |= vehicle.all;
    for (const std::size_t p : vehicle.all - defective) {
      if (rung == Rung::put_dead && !raised.intersects(vehicle.all) &&
          planning.ground(piece).fit.contains(p)) {
        sets.push_back(raised | PantographSet{p});
      }
    }
  }
  if (rung != Rung::put_dead) {
    PantographSet usual;
    for (const PantographSet wanted : judge.prescribed(planning.ground(piece), able)) {
      usual |= wanted;
    }
    sets.push_back(usual);
  }
  return sets;
}

std::string words_on_the_piece(const PlanningCase& planning, std::size_t piece,
                               PantographSet raised, Rung rung, PantographSet defective) {
  std::string text;
  for (const PantographSet set : without_resort(planning, piece, raised, rung, defective)) {
    const auto forbids = forbidding(planning, piece, set, defective);
    if (forbids && text.find(forbids->text) == std::string::npos) {
      text += planning.words().say(" In the way of {}: {} (rule {}; {}).",
                                   list_of(planning.judge(piece).train(), set), forbids->text,
                                   forbids->rule, place_words(planning, piece, &*forbids));
    }
  }
  return text;
}

}  // namespace

std::optional<InTheWay> find_in_the_way(const PlanningCase& planning, std::size_t piece,
                                        const std::vector<PantographSet>& sets,
                                        PantographSet defective, const Way* way, Rung step) {
  const Follower follower{planning, defective, way, step};
  std::vector<PantographSet> left = sets;
  if (const auto ahead = follower.follow(piece, true, left)) {
    return ahead;
  }
  // In the order of the ladder again: which come through ahead is told apart by where.
  std::vector<PantographSet> in_order;
  std::ranges::copy_if(sets, std::back_inserter(in_order), [&](PantographSet set) {
    return std::ranges::find(left, set) != left.end();
  });
  return follower.follow(piece, false, in_order);
}

std::string words_for(const PlanningCase& planning, const InTheWay& in_the_way,
                      PantographSet defective) {
  const std::size_t piece = in_the_way.piece;
  const std::string raised = list_of(planning.judge(piece).train(), in_the_way.raised);
  const Words& words = planning.words();
  const std::string nothing_changes = in_the_way.ahead
                                          ? words.say("nothing may be changed before it")
                                          : words.say("nothing may be changed behind it");
  if (planning.pieces[piece].lowered) {
    return words.say("In the way of {}: {} And {}.", raised,
                     cannot_stay_up_finding(planning, piece, in_the_way.raised).text,
                     nothing_changes);
  }
  if (in_the_way.rung != Rung::blocked) {
    return words.say("In the way of {}: {} would cost {} with it, and {}.", raised,
                     place_words(planning, piece, nullptr), words_for(in_the_way.rung, words),
                     nothing_changes);
  }
  const auto forbids = forbidding(planning, piece, in_the_way.raised, defective);
  const std::string text =
      words.say("In the way of {}: {}, and {}.", raised,
                place_words(planning, piece, forbids ? &*forbids : nullptr), nothing_changes);
  return forbids ? text + words.say(" There: {} (rule {})", forbids->text, forbids->rule) : text;
}

void add_what_is_in_the_way(const PlanningCase& planning, const Way& way, std::size_t piece,
                            PantographSet defective, std::vector<Finding>& findings) {
  if (planning.pieces[piece].lowered || way.raised[piece] == blocked) {
    return;
  }
  const PantographSet raised = *way.raised[piece];
  const LadderCost chosen = piece_cost(planning, piece, raised, defective);
  for (const Rung rung : accepted_at) {
    if (chosen[rung] == 0) {
      continue;
    }
    const auto said = std::ranges::find_if(findings, [&](const Finding& finding) {
      return speaks_of(planning.request->rules, finding, rung);
    });
    if (said == findings.end()) {
      continue;
    }
    const std::vector<PantographSet> better = better_at(planning, piece, chosen, rung, defective);
    if (better.empty() && rung != Rung::pattern) {
      const std::string consent = words_for_consent(planning, piece, chosen, rung, defective);
      said->text +=
          consent.empty() ? words_on_the_piece(planning, piece, raised, rung, defective) : consent;
    } else if (const auto found = better.empty() ? std::nullopt
                                                 : find_in_the_way(planning, piece, better,
                                                                   defective, &way, rung)) {
      said->text += " " + words_for(planning, *found, defective);
    }
  }
}

}  // namespace panup
