#include "plan/consent_gain.h"

#include <algorithm>
#include <cmath>

#include "plan/explain.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

std::string gain_words(const LadderCost& now, const LadderCost& then, const Words& words) {
  const double seconds = static_cast<double>(now[Rung::time] - then[Rung::time]) / 1000;
  const Rung rung = where_they_part(now, then);
  std::string gain =
      rung == Rung::blocked    ? words.say("the train would come farther")
      : rung == Rung::put_dead ? words.say("fewer locomotives would go dead in tow")
      : rung == Rung::time
          ? words.say("it would save running time")
          : words.say("it would be better at this step of the ladder: {}", words_for(rung, words));
  if (std::abs(seconds) < 1) {
    return gain;
  }
  return seconds > 0 ? words.say("{} ({} less running time)", gain, seconds_words(seconds))
                     : words.say("{} ({} more running time)", gain, seconds_words(seconds));
}

/// The finding that asks for the consent, made one that tells what it would permit.
Finding with_consent(const PlanningCase& planning, std::size_t piece, PantographSet raised,
                     PantographSet defective) {
  std::vector<Finding> said;
  const Judge& judge = planning.judge(piece);
  const Verdict verdict = judge.judge(planning.ground(piece), raised, defective, &said);
  const auto asks = std::ranges::find(said, Strength::consent_needed, &Finding::strength);
  Finding finding = *asks;
  finding.strength = Strength::note;
  finding.text =
      planning.words().say("With a consent of the infrastructure manager: {} up, {:g} km/h. {}",
                           list_of(judge.train(), raised), verdict.speed_kmh, asks->text);
  return finding;
}

}  // namespace

std::vector<std::string> add_consent_gain(const PlanningCase& planning, const Way& way,
                                          PantographSet defective,
                                          std::vector<PlannedSection>& sections) {
  const Way granted = find_way_with_consents(planning, defective);
  const LadderCost now = without_consents(way.cost);
  if (!(granted.cost < now)) {
    return {};
  }
  std::vector<std::string> where;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    const Piece& piece = planning.pieces[i];
    const RaisedOrBlocked up = granted.raised[i];
    if (piece.lowered || up == blocked || up == way.raised[i] ||
        !planning.judge(i).judge(planning.ground(i), *up, defective).consent_needed) {
      continue;
    }
    const Finding finding = with_consent(planning, i, *up, defective);
    const double middle_km = (piece.from_km + piece.to_km) / 2;
    const auto section = std::ranges::find_if(
        sections, [&](const PlannedSection& planned) { return middle_km <= planned.to_km; });
    section->findings.push_back(finding);
    tidy(section->findings);
    const std::string& id = planning.section(i).id;
    if (where.empty() || where.back() != id) {
      where.push_back(id);
    }
  }
  if (where.empty()) {
    return {};
  }
  const Words& words = planning.words();
  return {words.say_of(
      where.size(),
      "The plan does without a consent that nobody has named. With consents of the infrastructure "
      "manager for section {}, {}: see there.",
      "The plan does without a consent that nobody has named. With consents of the infrastructure "
      "manager for sections {}, {}: see there.",
      words.listed(where), gain_words(now, granted.cost, words))};
}

}  // namespace panup
