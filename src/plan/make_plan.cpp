#include "plan/make_plan.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/handed_out.h"
#include "judging/current.h"
#include "plan/coasting_findings.h"
#include "plan/contingencies.h"
#include "plan/explain.h"
#include "plan/instructions.h"
#include "plan/planning_case.h"
#include "plan/section_findings.h"
#include "plan/stand_current.h"
#include "plan/stopped.h"
#include "plan/way.h"

namespace panup {

namespace {

/// Whether the current of any vehicle is known on any system of the route.
bool any_demand_known(const PlanRequest& request) {
  const CurrentRules rules = current_rules(request.rules);
  return std::ranges::any_of(request.train.consist, [&](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr &&
           std::ranges::any_of(request.route.sections, [&](const Section& section) {
             return section.supply && running_demand(*vehicle, *section.supply, rules).has_value();
           });
  });
}

/// Where the lateral position of the wire is not judged, for no section says it or its rule is off:
/// " on a1, a2"; empty where that is the whole route, nothing where all is judged.
std::optional<std::string> lateral_position_unknown(const PlanRequest& request) {
  const bool judged = rule_in_force(request.rules, RuleKind::lateral_position) != nullptr;
  std::vector<std::string_view> ids;
  for (const Section& section : request.route.sections) {
    if (!judged || section.spans.empty()) {
      ids.push_back(section.id);
    }
  }
  if (ids.empty()) {
    return std::nullopt;
  }
  return ids.size() == request.route.sections.size() ? ""
                                                     : fmt::format(" on {}", fmt::join(ids, ", "));
}

void add_notes(const PlanRequest& request, std::vector<std::string>& notes) {
  if (request.train.invented || request.route.invented || request.conditions.invented) {
    notes.emplace_back("Demo: train, route or conditions are invented.");
  }
  std::string invented;
  for (const Rule& rule : request.rules.rules) {
    if (rule.on && rule.invented) {
      invented += (invented.empty() ? "" : ", ") + rule.id;
    }
  }
  if (!invented.empty()) {
    notes.push_back("Rules whose numbers are invented: " + invented + ".");
  }
  const RunningTrain train = set_running(request.train, false);
  for (const auto& [set, words] : {std::pair{train.kept_down, "to stay down"},
                                   std::pair{train.kept_up, "to be up wherever permitted"}}) {
    if (!set.empty()) {
      notes.push_back(fmt::format("The train file orders {} {}.", list_of(train, set), words));
    }
  }
  const auto lateral_unknown = lateral_position_unknown(request);
  std::vector<std::string> unchecked;
  if (rule_in_force(request.rules, RuleKind::zones_joined) == nullptr) {
    unchecked.emplace_back(
        "which electrical zones the raised pantographs join in separation sections");
  }
  if (rule_in_force(request.rules, RuleKind::standstill_current) == nullptr) {
    unchecked.emplace_back("current at a stand");
  }
  if (lateral_unknown) {
    unchecked.push_back("lateral position of the wire" + *lateral_unknown);
  }
  if (request.speed_from == SpeedFrom::tables) {
    unchecked.emplace_back("contact force");
  }
  notes.push_back(fmt::format(
      "The plan goes by working practice and published limits{}.{}{}",
      request.speed_from == SpeedFrom::tables ? ""
                                              : ", and by the mechanics of wire and pantograph",
      unchecked.empty() ? "" : " Not checked: ",
      unchecked.empty() ? "" : fmt::format("{}.", fmt::join(unchecked, ", "))));
  if (!any_demand_known(request)) {
    notes.emplace_back(
        "What the vehicles draw is neither stated nor computed: currents are not checked.");
  }
  if (request.conditions.wind_ms && lateral_unknown) {
    notes.push_back(fmt::format("Wind of {:g} m/s is not judged{}: ask for the line's own limits.",
                                *request.conditions.wind_ms, *lateral_unknown));
  }
}

std::string first_text(const std::vector<Finding>& findings, Strength strength) {
  const auto found = std::ranges::find(findings, strength, &Finding::strength);
  return found == findings.end() ? std::string() : found->text;
}

std::string duration_words(double seconds) {
  const long whole = std::lround(std::abs(seconds));
  return whole < 60 ? fmt::format("{} s", whole)
                    : fmt::format("{} min {} s", whole / 60, whole % 60);
}

std::string cost_words(const LadderCost& best, const LadderCost& asked, Answer answer) {
  const Rung rung = where_they_part(best, asked);
  const std::string first = answer == Answer::consent_needed
                                ? "It needs the consent of the infrastructure manager. "
                                : "It is permitted here. ";
  if (rung == Rung::blocked) {
    return first +
           "But there is no place on the way where practice allows the change to it and back.";
  }
  if (rung == Rung::time) {
    return first +
           fmt::format(
               "It costs {} of running time.",
               duration_words(static_cast<double>(asked[Rung::time] - best[Rung::time]) / 1000));
  }
  if (best == asked) {
    return first + "It is as good as the planned one; the plan had to take one of them.";
  }
  return first + fmt::format("It loses at this step of the ladder: {}.", words_for(rung));
}

/// The deciding moments of the separation sections that the planned configurations pass.
std::vector<SeparationMoment> moments_on(const PlanningCase& planning, const Way& way) {
  std::vector<SeparationMoment> moments;
  std::set<std::pair<std::size_t, PantographSet>> seen;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    const bool passes_raised =
        !way.raised[i].value_or(PantographSet{}).empty() && planning.lowered_speed_kmh[i] == 0;
    for (const std::size_t separation : planning.pieces[i].separations) {
      const Route& route = planning.request->route;
      if (passes_raised && !route.separations[separation].zones.empty() &&
          seen.emplace(separation, *way.raised[i]).second) {
        moments.push_back(separation_moment(planning.request->rules, route, separation,
                                            planning.judge(i).train(), *way.raised[i]));
      }
    }
  }
  return moments;
}

/// `speeds` may be null.
std::vector<SectionMargins> margins_on(const PlanningCase& planning,
                                       const std::vector<PlannedSection>& sections,
                                       const MechanicsSpeeds* speeds) {
  const PlanRequest& request = *planning.request;
  std::vector<SectionMargins> margins;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const PlannedSection& planned = sections[i];
    if (planned.raised.empty()) {
      continue;
    }
    const RunningTrain& train = planning.judges[planned.reversed ? 1 : 0].train();
    const PantographSet raised = set_of(train, planned.raised);
    const Section& section = request.route.sections[planned.section];
    margins.push_back(
        {.planned = i,
         .currents = current_loads(request.rules, train, section, raised),
         .lateral =
             lateral_margins(request.rules, request.conditions.wind_ms, train, section, raised),
         .forces = speeds == nullptr || planned.iced
                       ? std::nullopt
                       : speeds->forces_of(train, section, raised, planned.speed_kmh)});
  }
  return margins;
}

Plan plan_once(const PlanRequest& request, const MechanicsSpeeds* speeds) {
  PlanningCase planning = prepare(request);
  const PantographSet defective = planning.judges[0].train().defective;
  const Way way = find_way(planning, defective);
  Plan plan;
  plan.train = request.train;
  plan.route = request.route;
  plan.conditions = request.conditions;
  plan.rule_books = request.rules.names;
  plan.speed_from = request.speed_from;
  plan.overrides = request.rules.overrides;
  plan.sections = planned_sections(planning, way, defective);
  plan.answer = worst(plan.sections);
  plan.separation_moments = moments_on(planning, way);
  plan.margins = margins_on(planning, plan.sections, speeds);
  plan.running_time_s = static_cast<double>(way.cost[Rung::time]) / 1000;
  plan.notes = planning.notes;
  StandCurrents currents = check_stand_currents(planning, stands_of(planning, way), defective);
  for (StandFinding& found : currents.findings) {
    add_finding_at(plan.train, plan.route, found.at_km, std::move(found.finding), plan.sections);
  }
  std::ranges::move(currents.notes, std::back_inserter(plan.notes));
  plan.instructions = write_instructions(planning, way, currents.helps, plan.notes);
  plan.contingencies = find_contingencies(planning, way, plan.sections, request.jobs);
  add_notes(request, plan.notes);
  add_coasting_notes(planning, plan.instructions, plan.notes);
  if (speeds != nullptr) {
    std::ranges::copy(speeds->notes(), std::back_inserter(plan.notes));
  }
  plan.cautions = cautions();
  return plan;
}

/// Does `once` with what is known of the mechanics' speeds, again until it asks for none that is
/// not known.
template <typename Once>
auto with_mechanics_unless_stopped(const PlanRequest& request, const Once& once)
    -> std::optional<decltype(once(request, nullptr))> {
  if (request.speed_from == SpeedFrom::tables) {
    return once(request, nullptr);
  }
  MechanicsSpeeds speeds(request.speed_from, request.conditions.temperature_c);
  PlanRequest with = request;
  with.computed_speeds = &speeds;
  while (true) {
    auto result = once(with, &speeds);
    const std::vector<MechanicsQuestion> questions = speeds.take_questions();
    if (questions.empty()) {
      return result;
    }
    auto answers = request.mechanics(questions);
    if (!answers) {
      return std::nullopt;
    }
    speeds.learn(questions, std::move(*answers));
  }
}

/// Nothing where it was stopped.
template <typename Once>
auto with_mechanics(const PlanRequest& request, const Once& once)
    -> std::optional<decltype(once(request, nullptr))> {
  try {
    return with_mechanics_unless_stopped(request, once);
  } catch (const PlanningStopped&) {
    return std::nullopt;
  }
}

WhyNot why_not_once(const PlanRequest& request, const Plan& plan,
                    const std::vector<PantographRef>& asked, double at_km) {
  const PlanningCase planning = prepare(request);
  std::size_t piece = 0;
  while (piece + 1 < planning.pieces.size() && planning.pieces[piece].to_km <= at_km) {
    ++piece;
  }
  const Judge& judge = planning.judge(piece);
  const RunningTrain& train = judge.train();
  const PantographSet set = set_of(train, asked);
  WhyNot answer;
  answer.at_km = at_km;
  answer.asked = refs_of(train, set);
  for (const PlannedSection& section : plan.sections) {
    if (section.from_km <= at_km && at_km <= section.to_km) {
      answer.planned = section.raised;
    }
  }
  if (planning.pieces[piece].lowered) {
    answer.is_planned = set.empty();
    answer.answer = set.empty() ? Answer::permitted : Answer::none;
    answer.summary =
        fmt::format("All pantographs are down here for {}.", planning.pieces[piece].lowered_for);
    return answer;
  }
  answer.findings = findings_for(planning, piece, set, train.defective);
  const Verdict verdict = judge.judge(planning.ground(piece), set, train.defective);
  answer.is_planned = answer.asked == answer.planned && !verdict.forbidden;
  if (verdict.forbidden) {
    answer.answer = Answer::none;
    answer.summary = "It is ruled out here. " + first_text(answer.findings, Strength::forbidden);
    return answer;
  }
  answer.answer = verdict.consent_needed ? Answer::consent_needed : Answer::permitted;
  answer.speed_kmh = verdict.speed_kmh;
  const Way best = find_way(planning, train.defective);
  const Way with = find_way(planning, train.defective, Forced{.piece = piece, .raised = set});
  answer.extra_time_s = static_cast<double>(with.cost[Rung::time] - best.cost[Rung::time]) / 1000;
  answer.summary = answer.is_planned ? std::string("This is what the plan has up here.")
                                     : cost_words(best.cost, with.cost, answer.answer);
  return answer;
}

}  // namespace

std::optional<Plan> make_plan(const PlanRequest& request) {
  return with_mechanics(request, plan_once);
}

std::optional<WhyNot> why_not(const PlanRequest& request, const Plan& plan,
                              const std::vector<PantographRef>& asked, double at_km) {
  return with_mechanics(request, [&](const PlanRequest& with, const MechanicsSpeeds*) {
    return why_not_once(with, plan, asked, at_km);
  });
}

}  // namespace panup
