#include "plan/explain.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "plan/coasting_findings.h"
#include "plan/stand_place.h"

namespace panup {

namespace {

/// Drops what says the same as an earlier finding, and orders by strength.
void tidy(std::vector<Finding>& findings) {
  std::ranges::stable_sort(findings, {}, &Finding::strength);
  std::vector<Finding> kept;
  for (Finding& finding : findings) {
    const bool known = std::ranges::any_of(kept, [&](const Finding& other) {
      return other.rule == finding.rule && other.text == finding.text;
    });
    if (!known) {
      kept.push_back(std::move(finding));
    }
  }
  findings = std::move(kept);
}

std::string words_for_set(const PlanningCase& planning, std::size_t piece,
                          const JudgedSet& judged) {
  const RunningTrain& train = planning.judge(piece).train();
  std::string text = list_of(train, judged.raised) + " up";
  for (const int number : put_dead(train, judged.raised)) {
    text += fmt::format(", vehicle {} dead in tow", number);
  }
  // With findings, for what is handed out asks for all that can be known of it.
  std::vector<Finding> findings;
  const Verdict verdict =
      planning.judge(piece).judge(planning.ground(piece), judged.raised, {}, &findings);
  return text + fmt::format(", {:g} km/h", verdict.speed_kmh);
}

/// The best configuration on the piece, by itself, among those that `wanted` accepts.
template <typename Predicate>
const JudgedSet* best_where(const PlanningCase& planning, std::size_t piece,
                            PantographSet defective, const Predicate& wanted) {
  const double train_length = planning.judge(piece).train().layout.length_m;
  const double length = planning.pieces[piece].length_m();
  const JudgedSet* best = nullptr;
  for (const JudgedSet& judged : planning.grounds[planning.ground_of_piece[piece]]) {
    if (judged.raised.intersects(defective) || !wanted(judged.verdict)) {
      continue;
    }
    if (best == nullptr || cost_of(judged.verdict, length, train_length) <
                               cost_of(best->verdict, length, train_length)) {
      best = &judged;
    }
  }
  return best;
}

void add_alternative(const PlanningCase& planning, std::size_t piece, RuleKind kind,
                     const JudgedSet* alternative, std::string_view otherwise,
                     std::vector<Finding>& findings) {
  const Rule* const rule = rule_in_force(planning.request->rules, kind);
  if (rule == nullptr) {
    return;
  }
  findings.push_back({rule->id, Strength::note, rule->standing,
                      alternative == nullptr
                          ? fmt::format("There is no alternative {}.", otherwise)
                          : fmt::format("Alternative {}: {}.", otherwise,
                                        words_for_set(planning, piece, *alternative)),
                      rule->source});
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
  const LadderCost chosen = cost_of(judge.judge(planning.ground(piece), raised, defective), length,
                                    train.layout.length_m);
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
      const LadderCost other = cost_of(verdict, length, train.layout.length_m);
      const Rung rung = where_they_part(chosen, other);
      if (other < chosen) {
        continue;  // it is the way along the route that asks for it
      }
      why = fmt::format("it would lose at this step of the ladder: {}.", words_for(rung));
    }
    const auto& rules = planning.request->rules.rules;
    const auto rule = std::ranges::find_if(rules, [&](const Rule& candidate) {
      return candidate.on && candidate.kind == RuleKind::prescribed_position;
    });
    findings.push_back({rule->id, Strength::note, rule->standing,
                        fmt::format("Why not {} alone on {}: {}", list_of(train, prescribed[v]),
                                    name_of(train.vehicles[v]), why),
                        rule->source});
  }
}

struct SpeedWords {
  double speed_kmh = 0;
  std::string rule;
  std::string reason;
};

/// The finding that decides the speed: its first sentence, as one clause.
SpeedWords speed_words(const Verdict& verdict, const std::vector<Finding>& findings) {
  SpeedWords words{.speed_kmh = verdict.speed_kmh, .rule = {}, .reason = {}};
  if (verdict.speed_rule == nullptr) {
    return words;
  }
  words.rule = verdict.speed_rule->id;
  const auto found = std::ranges::find_if(findings, [&](const Finding& finding) {
    return finding.rule == words.rule && finding.strength == Strength::speed_limit;
  });
  if (found != findings.end()) {
    words.reason = found->text.substr(0, found->text.find(". "));
    if (words.reason.ends_with('.')) {
      words.reason.pop_back();
    }
  }
  return words;
}

PlannedSection section_on(const PlanningCase& planning, std::size_t i, const RaisedOrBlocked& up,
                          PantographSet defective) {
  const Piece& piece = planning.pieces[i];
  PlannedSection planned;
  planned.section = piece.section;
  planned.supply = planning.section(i).supply;
  planned.iced = piece.iced;
  planned.reversed = piece.reversed;
  planned.lowered_for = piece.lowered_for;
  const Judge& judge = planning.judge(i);
  if (piece.lowered) {
    const Verdict verdict = judge.judge_lowered(planning.ground(i), &planned.findings);
    const SpeedWords words = speed_words(verdict, planned.findings);
    planned.speed_kmh = words.speed_kmh;
    planned.speed_rule = words.rule;
    planned.speed_reason = words.reason;
    return planned;
  }
  if (up == blocked) {
    planned.answer = Answer::none;
    planned.findings = findings_for_blocked(planning, i, defective);
    return planned;
  }
  const PantographSet raised = *up;
  std::vector<Finding> findings;
  const Verdict verdict = judge.judge(planning.ground(i), raised, defective, &findings);
  const SpeedWords words = speed_words(verdict, findings);
  planned.answer = verdict.consent_needed ? Answer::consent_needed : Answer::permitted;
  if (verdict.consent_needed) {
    planned.without_consent = without_consent(planning, i, defective);
  }
  planned.raised = refs_of(judge.train(), raised);
  planned.put_dead_in_tow = put_dead(judge.train(), raised);
  planned.speed_kmh = words.speed_kmh;
  planned.speed_rule = words.rule;
  planned.speed_reason = words.reason;
  double least = judge.train().layout.length_m;
  const PlacedPantograph* previous = nullptr;
  for (const std::size_t p : judge.train().front_first) {
    if (raised.contains(p)) {
      const PlacedPantograph& placed = judge.train().pantographs[p];
      if (previous != nullptr) {
        least = std::min(least, placed.from_front_m - previous->from_front_m);
        planned.least_distance_m = least;
      }
      previous = &placed;
    }
  }
  planned.findings = findings_for(planning, i, raised, defective);
  return planned;
}

bool is_of_separation(const PlanningCase& planning, const Finding& finding) {
  const Rule* const rule = find_rule(planning.request->rules, finding.rule);
  return rule != nullptr &&
         (rule->kind == RuleKind::zones_joined || rule->kind == RuleKind::separation_length ||
          rule->kind == RuleKind::separation_unknown);
}

/// What is said where the train stands over a separation section belongs to the whole stretch.
void add_findings_of_separations(const PlanningCase& planning, const std::vector<Finding>& said,
                                 std::vector<Finding>& findings) {
  std::ranges::copy_if(said, std::back_inserter(findings),
                       [&](const Finding& finding) { return is_of_separation(planning, finding); });
  tidy(findings);
}

/// Why what is up before a separation section may not stay up in it.
void add_reasons_at_separation(const PlanningCase& planning, std::size_t piece,
                               const RaisedOrBlocked& raised_before, PantographSet defective,
                               std::vector<Finding>& findings) {
  if (raised_before.value_or(PantographSet{}).empty()) {
    return;
  }
  std::vector<Finding> said;
  planning.judge(piece).judge(planning.ground(piece), *raised_before, defective, &said);
  add_findings_of_separations(planning, said, findings);
}

}  // namespace

std::string without_consent(const PlanningCase& planning, std::size_t piece,
                            PantographSet defective) {
  const JudgedSet* const alternative = best_where(
      planning, piece, defective, [](const Verdict& other) { return !other.consent_needed; });
  return alternative == nullptr ? std::string() : words_for_set(planning, piece, *alternative);
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
                    "without a facing pair", findings);
  }
  if (verdict.consent_needed) {
    add_alternative(planning, piece, RuleKind::design_spacing,
                    best_where(planning, piece, defective,
                               [](const Verdict& other) { return !other.consent_needed; }),
                    "without consent", findings);
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
      findings.push_back(
          {rule->id, Strength::forbidden, rule->standing,
           fmt::format("{} would be permitted here, but on the way there is no place "
                       "where practice allows the change.",
                       words_for_set(planning, piece, *possible)),
           rule->source});
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
  PantographSet able;
  for (const RunningVehicle& vehicle : judge.train().vehicles) {
    for (const std::size_t p : judge.train().front_first) {
      if (!vehicle.dead && vehicle.all.contains(p)) {
        add_forbidden({p});
        able.insert(p);
      }
    }
  }
  PantographSet usual;
  for (const PantographSet wanted : judge.prescribed(planning.ground(piece), able)) {
    usual |= wanted;
  }
  add_forbidden(usual);
  tidy(findings);
  return findings;
}

std::vector<PlannedSection> planned_sections(const PlanningCase& planning, const Way& way,
                                             PantographSet defective,
                                             std::vector<std::size_t>* first_piece) {
  // Pieces that look the same share their findings; long routes repeat themselves.
  std::map<std::pair<std::size_t, RaisedOrBlocked>, PlannedSection> known;
  std::vector<PlannedSection> sections;
  std::vector<std::size_t> firsts;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    const Piece& piece = planning.pieces[i];
    const std::pair key(planning.ground_of_piece[i], way.raised[i]);
    auto found = known.find(key);
    const bool reusable = !piece.lowered && way.raised[i] != blocked;
    if (!reusable || found == known.end()) {
      found = known.insert_or_assign(key, section_on(planning, i, way.raised[i], defective)).first;
    }
    PlannedSection planned = found->second;
    planned.section = piece.section;
    planned.from_km = piece.from_km;
    planned.to_km = piece.to_km;
    if (way.raised[i] == blocked && !piece.separations.empty() && i > 0) {
      add_reasons_at_separation(planning, i, way.raised[i - 1], defective, planned.findings);
    }
    PlannedSection* const before = sections.empty() ? nullptr : &sections.back();
    if (before != nullptr && before->section == planned.section && before->iced == planned.iced &&
        before->reversed == planned.reversed && before->lowered_for == planned.lowered_for &&
        before->answer == planned.answer && before->raised == planned.raised &&
        before->speed_kmh == planned.speed_kmh) {
      before->to_km = planned.to_km;
      add_findings_of_separations(planning, planned.findings, before->findings);
      continue;
    }
    sections.push_back(std::move(planned));
    firsts.push_back(i);
  }
  add_coasting_findings(planning, way, defective, sections);
  add_place_findings(planning, stands_of(planning, way), sections);
  if (first_piece != nullptr) {
    *first_piece = std::move(firsts);
  }
  return sections;
}

Answer worst(const std::vector<PlannedSection>& sections) {
  Answer answer = Answer::permitted;
  for (const PlannedSection& section : sections) {
    answer = std::max(answer, section.answer);
  }
  return answer;
}

}  // namespace panup
