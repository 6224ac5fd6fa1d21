#include "plan/explain.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "judging/deciding_values.h"
#include "plan/in_the_way.h"
#include "plan/ladder.h"
#include "plan/preferred_sets.h"
#include "plan/put_dead_choice.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

std::string words_for_set(const PlanningCase& planning, std::size_t piece,
                          const JudgedSet& judged) {
  const Words& words = planning.words();
  const RunningTrain& train = planning.judge(piece).train();
  std::string text = words.say("{} up", list_of(train, judged.raised));
  for (const int number : put_dead(train, judged.raised)) {
    text += words.say(", vehicle {} dead in tow", number);
  }
  // With findings: only then the mechanics is asked for a speed it does not know yet.
  std::vector<Finding> findings;
  const Verdict verdict =
      planning.judge(piece).judge(planning.ground(piece), judged.raised, {}, &findings);
  return words.say("{}, {:g} km/h", text, runnable_speed_kmh(verdict));
}

/// The best configuration on the piece, by itself, among those that `wanted` accepts.
template <typename Predicate>
const JudgedSet* best_where(const PlanningCase& planning, std::size_t piece,
                            PantographSet defective, const Predicate& wanted) {
  std::vector<JudgedSet> sets;
  for (const JudgedSet& judged : planning.sets_on(piece)) {
    if (wanted(judged.verdict)) {
      sets.push_back(judged);
    }
  }
  const JudgedSet* const best = best_of(planning, piece, sets, defective);
  return best == nullptr ? nullptr : find_set(planning.sets_on(piece), best->raised);
}

/// All that may be up on the piece by itself, the best first.
std::vector<PantographSet> permitted_on(const PlanningCase& planning, std::size_t piece,
                                        PantographSet defective) {
  std::vector<PieceCost> costs = piece_costs(planning, piece, defective);
  std::ranges::stable_sort(costs, {}, &PieceCost::cost);
  std::vector<PantographSet> sets;
  for (const PieceCost& one : costs) {
    sets.push_back(one.raised);
  }
  return sets;
}

void add_alternative(const PlanningCase& planning, std::size_t piece, RuleKind kind,
                     const JudgedSet* alternative, const std::string& otherwise,
                     std::vector<Finding>& findings) {
  const Rule* const rule = rule_in_force(planning.request->rules, kind);
  if (rule == nullptr) {
    return;
  }
  findings.push_back(finding_of(
      *rule, Strength::note,
      alternative == nullptr
          ? planning.words().say("There is no alternative {}.", otherwise)
          : planning.words().say("Alternative on this stretch by itself, {}: {}.", otherwise,
                                 words_for_set(planning, piece, *alternative))));
}

/// Where a working vehicle departs from the pattern although its prescribed pantograph is sound:
/// the step of the ladder at which the prescribed one would lose.
void add_reasons_for_departures(const PlanningCase& planning, std::size_t piece,
                                PantographSet raised, PantographSet defective,
                                std::vector<Finding>& findings) {
  const Judge& judge = planning.judge(piece);
  const RunningTrain& train = judge.train();
  const double length = planning.pieces[piece].length_m();
  const std::vector<PantographSet> prescribed = judge.prescribed(planning.ground(piece), raised);
  const LadderCost chosen =
      cost_of(judge.judge(planning.ground(piece), raised, defective), length, planning.terms);
  for (std::size_t v = 0; v < train.vehicles.size(); ++v) {
    const PantographSet up = raised & train.vehicles[v].all;
    if (prescribed[v].empty() || up == prescribed[v] || prescribed[v].intersects(defective)) {
      continue;
    }
    std::vector<Finding> said;
    const PantographSet instead = (raised - train.vehicles[v].all) | prescribed[v];
    const Verdict verdict = judge.judge(planning.ground(piece), instead, defective, &said);
    std::string why;
    if (verdict.forbidden) {
      tidy(said);
      why = said.front().text;
    } else {
      const LadderCost other = cost_of(verdict, length, planning.terms);
      const Rung rung = where_they_part(chosen, other);
      if (other < chosen) {
        continue;  // it is the way along the route that asks for it
      }
      why = planning.words().say("it would lose at this step of the ladder: {}.",
                                 words_for(rung, planning.words()));
    }
    const auto& asked = planning.ground(piece).asked;
    const Rule* const rule = *std::ranges::find(asked, RuleKind::prescribed_position, &Rule::kind);
    findings.push_back(
        finding_of(*rule, Strength::note,
                   planning.words().say("Why not {} alone on {}: {}", list_of(train, prescribed[v]),
                                        name_of(train.vehicles[v]), why)));
  }
}

/// Whether any of them is about more than that a vehicle has nothing up.
bool speaks_of_what_is_up(const RuleBook& rules, const std::vector<Finding>& findings) {
  return std::ranges::any_of(findings, [&rules](const Finding& finding) {
    const Rule* const rule = find_rule(rules, finding.rule);
    return rule != nullptr && rule->kind != RuleKind::put_dead_in_tow;
  });
}

/// The best on the piece if the train file ordered nothing up; nothing if there is none.
std::optional<JudgedSet> best_without_order(const PlanningCase& planning, std::size_t piece,
                                            PantographSet defective) {
  Train train = planning.request->train;
  for (ConsistItem& item : train.consist) {
    if (auto* const vehicle = std::get_if<Vehicle>(&item)) {
      vehicle->kept_up.clear();
    }
  }
  const Judge judge(
      planning.request->rules, train, planning.pieces[piece].reversed,
      {planning.request->conditions.wind_ms, planning.request->conditions.temperature_c},
      planning.request->computed_speeds);
  const Ground& ground = planning.ground(piece);
  const std::vector<VehicleChoices> choices = choices_on(judge, ground);
  std::vector<JudgedSet> sets;
  for (const PantographSet raised :
       planning.search ? preferred_sets(judge, ground, narrowed(judge, ground, choices), defective,
                                        planning.terms)
                       : configurations(choices)) {
    const JudgedSet judged{.raised = raised, .verdict = judge.judge(ground, raised, defective)};
    if (!judged.verdict.forbidden) {
      sets.push_back(judged);
    }
  }
  const JudgedSet* const best = best_of(planning, piece, sets, defective);
  return best == nullptr ? std::nullopt : std::optional(*best);
}

/// Where it is the order that leaves nothing: that, and what would be permitted without it.
void add_cost_of_order(const PlanningCase& planning, std::size_t piece, PantographSet ordered,
                       PantographSet defective, std::vector<Finding>& findings) {
  const Rule* const rule = rule_in_force(planning.request->rules, RuleKind::operators_order);
  const auto without = best_without_order(planning, piece, defective);
  if (rule == nullptr || !without) {
    return;
  }
  findings.push_back(finding_of(
      *rule, Strength::forbidden,
      planning.words().say(
          "{}: ordered up by the train file, but not permitted here. Without the order: {}.",
          list_of(planning.judge(piece).train(), ordered),
          words_for_set(planning, piece, *without))));
}

}  // namespace

const JudgedSet* best_of(const PlanningCase& planning, std::size_t piece,
                         std::span<const JudgedSet> sets, PantographSet defective) {
  const double length_m = planning.pieces[piece].length_m();
  const PutDeadChoice choice(planning.judge(piece).train(), sets, defective);
  const JudgedSet* best = nullptr;
  LadderCost least;
  for (const JudgedSet& judged : sets) {
    if (judged.raised.intersects(defective)) {
      continue;
    }
    const LadderCost cost =
        cost_of(judged.verdict, length_m, planning.terms) + choice.cost_of(judged, length_m);
    if (best == nullptr || cost < least) {
      best = &judged;
      least = cost;
    }
  }
  return best;
}

std::string without_consent(const PlanningCase& planning, std::size_t piece, PantographSet raised,
                            PantographSet defective) {
  const Verdict verdict = planning.judge(piece).judge(planning.ground(piece), raised, defective);
  if (!verdict.consent_needed) {
    return words_for_set(planning, piece, {raised, verdict});
  }
  const JudgedSet* const alternative = best_where(
      planning, piece, defective, [](const Verdict& other) { return !other.consent_needed; });
  return alternative == nullptr ? std::string() : words_for_set(planning, piece, *alternative);
}

std::string seconds_words(double seconds) {
  const long whole = std::lround(std::abs(seconds));
  return whole < 60 ? fmt::format("{} s", whole)
                    : fmt::format("{} min {} s", whole / 60, whole % 60);
}

std::vector<int> put_dead(const RunningTrain& train, PantographSet raised) {
  std::vector<int> numbers;
  for (const RunningVehicle& vehicle : train.vehicles) {
    if (!vehicle.dead && !raised.intersects(vehicle.all)) {
      numbers.push_back(vehicle.number);
    }
  }
  std::ranges::sort(numbers);
  return numbers;
}

std::vector<Finding> findings_for(const PlanningCase& planning, std::size_t piece,
                                  PantographSet raised, PantographSet defective) {
  std::vector<Finding> findings;
  const Verdict verdict =
      planning.judge(piece).judge(planning.ground(piece), raised, defective, &findings);
  if (!verdict.forbidden) {
    add_reasons_for_departures(planning, piece, raised, defective, findings);
  }
  if (verdict.facing_pairs > 0) {
    add_alternative(planning, piece, RuleKind::put_dead_in_tow,
                    best_where(planning, piece, defective,
                               [](const Verdict& other) { return other.facing_pairs == 0; }),
                    planning.words().say("without a facing pair"), findings);
  }
  if (verdict.consent_needed) {
    add_alternative(planning, piece, RuleKind::design_spacing,
                    best_where(planning, piece, defective,
                               [](const Verdict& other) { return !other.consent_needed; }),
                    planning.words().say("without consent"), findings);
  }
  tidy(findings);
  return findings;
}

std::vector<Finding> findings_for_blocked(const PlanningCase& planning, std::size_t piece,
                                          PantographSet defective) {
  const Judge& judge = planning.judge(piece);
  std::vector<Finding> findings;
  const JudgedSet* const possible =
      best_where(planning, piece, defective, [](const Verdict&) { return true; });
  if (possible != nullptr) {
    const auto rule =
        std::ranges::find(planning.request->rules.rules, RuleKind::change_at_stop, &Rule::kind);
    if (rule != planning.request->rules.rules.end()) {
      const auto found =
          find_in_the_way(planning, piece, permitted_on(planning, piece, defective), defective);
      findings.push_back(finding_of(
          *rule, Strength::forbidden,
          planning.words().say("{} would be permitted here, but on the way there is no place "
                               "where practice allows the change.{}",
                               words_for_set(planning, piece, *possible),
                               found ? " " + words_for(planning, *found, defective) : "")));
    }
    return findings;
  }
  const auto add_forbidden = [&](PantographSet raised) {
    std::vector<Finding> said;
    judge.judge(planning.ground(piece), raised, defective, &said);
    std::ranges::copy_if(said, std::back_inserter(findings), [](const Finding& finding) {
      return finding.strength == Strength::forbidden;
    });
  };
  const PantographSet ordered = ordered_up(judge.train(), planning.ground(piece).fit, defective);
  if (!ordered.empty()) {
    add_forbidden(ordered);
    const bool by_themselves = speaks_of_what_is_up(planning.request->rules, findings);
    add_cost_of_order(planning, piece, ordered, defective, findings);
    if (by_themselves) {
      tidy(findings);
      return findings;
    }
  }
  PantographSet able;
  for (const RunningVehicle& vehicle : judge.train().vehicles) {
    for (const std::size_t p : judge.train().front_first) {
      if (!vehicle.dead && vehicle.all.contains(p)) {
        add_forbidden(ordered | PantographSet{p});
        able.insert(p);
      }
    }
  }
  PantographSet usual = ordered;
  for (const PantographSet wanted : judge.prescribed(planning.ground(piece), able)) {
    usual |= wanted;
  }
  add_forbidden(usual);
  tidy(findings);
  return findings;
}

std::optional<Finding> lowered_finding(const PlanningCase& planning, std::size_t piece,
                                       Strength strength) {
  const Piece& lowered = planning.pieces[piece];
  const auto& separations = planning.request->route.separations;
  const auto asks = std::ranges::find_if(separations, [&](const SeparationSection& one) {
    return lowered.lowered && one.pantograph_lowered && one.name == lowered.lowered_for &&
           one.from_km <= lowered.to_km && lowered.from_km <= one.from_km + one.length_m / 1000;
  });
  if (asks == separations.end()) {
    return std::nullopt;
  }
  return Finding{
      .rule = rule_of_driver(planning.request->rules).id,
      .strength = strength,
      .standing = Standing::derived,
      .text = planning.words().say("All pantographs are down here for {}.", lowered.lowered_for),
      .source = planning.words().say("derived from what the line states of the separation section"),
      .values = {value_of(*asks, "pantograph_lowered", planning.words())}};
}

Finding cannot_stay_up_finding(const PlanningCase& planning, std::size_t piece,
                               PantographSet raised) {
  return {.rule = rule_of_driver(planning.request->rules).id,
          .strength = Strength::forbidden,
          .standing = Standing::derived,
          .text = planning.words().say(
              "{} may not stay up until the train comes to {}: on the way there the "
              "rear of the train comes under wire that does not admit it.",
              list_of(planning.judge(piece).train(), raised), planning.pieces[piece].lowered_for),
          .source = planning.words().say("derived from how the train stands under the wire")};
}

}  // namespace panup
