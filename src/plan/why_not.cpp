#include "plan/why_not.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/explain.h"
#include "plan/mechanics_rounds.h"
#include "plan/way.h"

namespace panup {

namespace {

std::string first_text(const std::vector<Finding>& findings, Strength strength) {
  const auto found = std::ranges::find(findings, strength, &Finding::strength);
  return found == findings.end() ? std::string() : found->text;
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
               seconds_words(static_cast<double>(asked[Rung::time] - best[Rung::time]) / 1000));
  }
  if (best == asked) {
    return first + "It is as good as the planned one; the plan had to take one of them.";
  }
  return first + fmt::format("It loses at this step of the ladder: {}.", words_for(rung));
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
  answer.answer = needs_consent(verdict) ? Answer::consent_needed : Answer::permitted;
  answer.speed_kmh = verdict.speed_kmh;
  const Way best = find_way(planning, train.defective);
  const Way with = find_way(planning, train.defective, Forced{.piece = piece, .raised = set});
  if (with.cost[Rung::blocked] == best.cost[Rung::blocked]) {
    answer.extra_time_s = static_cast<double>(with.cost[Rung::time] - best.cost[Rung::time]) / 1000;
  }
  answer.summary = answer.is_planned ? std::string("This is what the plan has up here.")
                                     : cost_words(best.cost, with.cost, answer.answer);
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
