#include "plan/why_not.h"

#include <algorithm>
#include <cmath>

#include "plan/explain.h"
#include "plan/in_the_way.h"
#include "plan/mechanics_rounds.h"
#include "plan/section_findings.h"
#include "plan/way.h"

namespace panup {

namespace {

std::string first_text(const std::vector<Finding>& findings, Strength strength) {
  const auto found = std::ranges::find(findings, strength, &Finding::strength);
  return found == findings.end() ? std::string() : found->text;
}

/// What the ways of the plan and of the question have apart, outside the stretch that the asked
/// configuration stays up on around the place.
struct Apart {
  std::size_t first = 0;               ///< piece, of that stretch
  std::size_t last = 0;                ///< the same
  std::vector<bool> not_run;           ///< by piece: the plan runs it, the asked way does not
  std::vector<bool> run_in_its_place;  ///< the other way round
  std::vector<bool> needs_consent;     ///< the plan does not
  std::vector<bool> saves_consent;
  std::vector<bool> other_up;  ///< than the plan has, outside that stretch
};

bool any(const std::vector<bool>& pieces) {
  return std::ranges::find(pieces, true) != pieces.end();
}

bool is_run(const PlanningCase& planning, const Way& way, std::size_t piece) {
  return planning.pieces[piece].lowered || way.raised[piece] != blocked;
}

/// What the way costs over a piece, with the pantographs down that are defective from the start.
LadderCost cost_on(const PlanningCase& planning, const Way& way, std::size_t piece) {
  return piece_cost(planning, piece, way.raised[piece], planning.judges[0].train().defective);
}

bool asks_for_consent(const PlanningCase& planning, const Way& way, std::size_t piece) {
  const LadderCost cost = cost_on(planning, way, piece);
  return cost != without_consents(cost);
}

Apart find_apart(const PlanningCase& planning, const Way& best, const Way& asked,
                 std::size_t piece) {
  const std::size_t count = planning.pieces.size();
  Apart apart;
  apart.first = piece;
  apart.last = piece;
  const auto stays = [&](std::size_t i) { return asked.raised[i] == asked.raised[piece]; };
  while (apart.first > 0 && stays(apart.first - 1)) {
    --apart.first;
  }
  while (apart.last + 1 < count && stays(apart.last + 1)) {
    ++apart.last;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const bool there = apart.first <= i && i <= apart.last;
    const bool planned = is_run(planning, best, i);
    const bool run = is_run(planning, asked, i);
    const bool planned_consent = asks_for_consent(planning, best, i);
    const bool consent = asks_for_consent(planning, asked, i);
    apart.not_run.push_back(planned && !run);
    apart.run_in_its_place.push_back(run && !planned);
    apart.needs_consent.push_back(!there && consent && !planned_consent);
    apart.saves_consent.push_back(!there && planned_consent && !consent);
    apart.other_up.push_back(!there && planned && run && !planning.pieces[i].lowered &&
                             asked.raised[i] != best.raised[i]);
  }
  return apart;
}

/// "km 1.000 to 2.000 and km 5.500 to 6.000": the stretches that some pieces make.
std::string km_words(const PlanningCase& planning, const std::vector<bool>& some) {
  std::string text;
  for (std::size_t i = 0; i < some.size(); ++i) {
    if (!some[i]) {
      continue;
    }
    const double from_km = planning.pieces[i].from_km;
    while (i + 1 < some.size() && some[i + 1]) {
      ++i;
    }
    const std::string one =
        planning.words().say("km {:.3f} to {:.3f}", from_km, planning.pieces[i].to_km);
    text = text.empty() ? one : planning.words().say("{} and {}", text, one);
  }
  return text;
}

/// Where the asked way costs more at a step.
std::string where_it_loses(const PlanningCase& planning, const Way& best, const Way& asked,
                           Rung rung) {
  std::vector<bool> worse;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    worse.push_back(cost_on(planning, asked, i)[rung] > cost_on(planning, best, i)[rung]);
  }
  return any(worse) ? planning.words().say(", on {}", km_words(planning, worse)) : std::string();
}

/// Sentences that say what else differs; each begins with a space.
std::string apart_words(const PlanningCase& planning, const Apart& apart) {
  const Words& words = planning.words();
  std::string text;
  if (any(apart.not_run)) {
    text += words.say(" With it the train does not run on {}.", km_words(planning, apart.not_run));
  }
  if (any(apart.run_in_its_place)) {
    text += words.say(" It runs where the plan stops, on {}.",
                      km_words(planning, apart.run_in_its_place));
  }
  if (any(apart.needs_consent)) {
    text += words.say(" It needs consent also on {}.", km_words(planning, apart.needs_consent));
  }
  if (any(apart.saves_consent)) {
    text += words.say(" It needs no consent, where the plan does, on {}.",
                      km_words(planning, apart.saves_consent));
  }
  if (any(apart.other_up)) {
    text += words.say(" Something else than planned is up also on {}.",
                      km_words(planning, apart.other_up));
  }
  return text;
}

/// The asked configuration at a place, and the best ways with it and without.
struct Comparison {
  const PlanningCase& planning;
  std::size_t piece = 0;
  PantographSet raised;
  const Way& best;
  const Way& with;
};

std::string cost_words(const Comparison& of, Answer answer) {
  const LadderCost& best = of.best.cost;
  const LadderCost& asked = of.with.cost;
  const Rung rung = where_they_part(best, asked);
  const Words& words = of.planning.words();
  const std::string first = answer == Answer::consent_needed
                                ? words.say("It needs the consent of the infrastructure manager. ")
                                : words.say("It is permitted here. ");
  if (rung == Rung::blocked) {
    const PantographSet defective = of.planning.judge(of.piece).train().defective;
    const auto found = find_in_the_way(of.planning, of.piece, {of.raised}, defective);
    return first +
           words.say(
               "But there is no place on the way where practice allows the change to it and "
               "back.") +
           (found ? " " + words_for(of.planning, *found, defective) : "");
  }
  if (rung == Rung::time) {
    return first + words.say("It costs {} of running time.",
                             seconds_words(
                                 static_cast<double>(asked[Rung::time] - best[Rung::time]) / 1000));
  }
  if (best == asked) {
    return first + words.say("It is as good as the planned one; the plan had to take one of them.");
  }
  return first + words.say("It loses at this step of the ladder: {}{}.", words_for(rung, words),
                           where_it_loses(of.planning, of.best, of.with, rung));
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
    answer.summary = planning.words().say("All pantographs are down here for {}.",
                                          planning.pieces[piece].lowered_for);
    if (auto finding =
            lowered_finding(planning, piece, set.empty() ? Strength::note : Strength::forbidden)) {
      answer.findings.push_back(std::move(*finding));
    }
    return answer;
  }
  answer.findings = findings_for(planning, piece, set, train.defective);
  name_sections(request.route, planning.section(piece), answer.findings, planning.words());
  const Verdict verdict = judge.judge(planning.ground(piece), set, train.defective);
  answer.is_planned = answer.asked == answer.planned && !verdict.forbidden;
  if (verdict.forbidden) {
    answer.answer = Answer::none;
    answer.summary = planning.words().say("It is ruled out here. {}",
                                          first_text(answer.findings, Strength::forbidden));
    return answer;
  }
  answer.answer = needs_consent(verdict) ? Answer::consent_needed : Answer::permitted;
  answer.speed_kmh = verdict.speed_kmh;
  const Way best = find_way(planning, train.defective);
  const Way with = find_way(planning, train.defective, Forced{.piece = piece, .raised = set});
  const Apart apart = find_apart(planning, best, with, piece);
  const bool same_stretch = with.cost[Rung::blocked] == best.cost[Rung::blocked] &&
                            !any(apart.not_run) && !any(apart.run_in_its_place);
  if (same_stretch && !any(apart.needs_consent) && !any(apart.saves_consent)) {
    answer.extra_time_s = static_cast<double>(with.cost[Rung::time] - best.cost[Rung::time]) / 1000;
  }
  answer.summary = answer.is_planned
                       ? planning.words().say("This is what the plan has up here.")
                       : cost_words({planning, piece, set, best, with}, answer.answer) +
                             apart_words(planning, apart);
  return answer;
}

}  // namespace

std::optional<WhyNot> why_not(const PlanRequest& request, const Plan& plan,
                              const std::vector<PantographRef>& asked, double at_km) {
  return with_mechanics(request, [&](const PlanRequest& with, const MechanicsSpeeds*) {
    return why_not_once(with, plan, asked, at_km);
  });
}

}  // namespace panup
