#include "plan/planned_sections.h"

#include <algorithm>
#include <map>
#include <utility>

#include "plan/coasting_findings.h"
#include "plan/explain.h"
#include "plan/in_the_way.h"
#include "plan/ordered_speeds.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

/// The speed, and what decides it.
void set_speed(const Verdict& verdict, const std::vector<Finding>& findings,
               PlannedSection& planned) {
  planned.speed_kmh = verdict.speed_kmh;
  planned.permitted_speed_kmh = verdict.speed_kmh;
  planned.speed_rule = verdict.speed_rule == nullptr ? std::string() : verdict.speed_rule->id;
  const Finding* const deciding = deciding_finding(verdict, findings);
  planned.speed_reason = deciding == nullptr ? std::string() : deciding->reason;
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
    set_speed(verdict, planned.findings, planned);
    if (auto finding = lowered_finding(planning, i, Strength::note)) {
      planned.findings.push_back(std::move(*finding));
    }
    planned.answer = verdict.consent_needed ? Answer::consent_needed : Answer::permitted;
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
  planned.answer = needs_consent(verdict) ? Answer::consent_needed : Answer::permitted;
  if (needs_consent(verdict)) {
    planned.without_consent = without_consent(planning, i, raised, defective);
  }
  planned.raised = refs_of(judge.train(), raised);
  planned.put_dead_in_tow = put_dead(judge.train(), raised);
  set_speed(verdict, findings, planned);
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
  planned.exposed = exposed_loads(judge, raised);
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

std::vector<PlannedSection> planned_sections(const PlanningCase& planning, const Course& course,
                                             PantographSet defective) {
  const Way& way = course.way;
  // Pieces that look the same share their findings; long routes repeat themselves.
  std::map<std::pair<std::size_t, RaisedOrBlocked>, PlannedSection> known;
  std::vector<PlannedSection> sections;
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
    if (stops_before_lowered(planning, way, i)) {
      planned.answer = Answer::none;
      planned.speed_kmh = 0;
      planned.permitted_speed_kmh = 0;
      planned.exposed.clear();
      planned.findings = {cannot_stay_up_finding(planning, i, *way.raised[i - 1])};
    }
    if (course.ends_before && course.ends_before->piece == i) {
      planned.answer = Answer::none;
      planned.speed_kmh = 0;
      planned.permitted_speed_kmh = 0;
      planned.findings = {course.ends_before->finding};
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
    // What is in the way hangs on where the piece lies, not on how it looks to the rules.
    add_what_is_in_the_way(planning, way, i, defective, planned.findings);
    sections.push_back(std::move(planned));
  }
  add_coasting_findings(planning, way, defective, course.powerless, sections);
  for (const auto* const findings :
       {&course.places.findings, &course.currents.findings, &course.orders.findings}) {
    for (const PlacedFinding& found : *findings) {
      add_finding_at(*planning.request, found.at_km, found.finding, sections);
    }
  }
  sections =
      with_ordered_speeds(planning, way, course.orders.speeds, defective, std::move(sections));
  const Route& route = planning.request->route;
  for (PlannedSection& section : sections) {
    name_sections(route, route.sections[section.section], section.findings, planning.words());
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
