#include "plan/consent_gain.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/listed.h"
#include "plan/explain.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

std::string gain_words(const LadderCost& now, const LadderCost& then) {
  const double seconds = static_cast<double>(now[Rung::time] - then[Rung::time]) / 1000;
  const Rung rung = where_they_part(now, then);
  std::string words =
      rung == Rung::blocked    ? "the train would come farther"
      : rung == Rung::put_dead ? "fewer locomotives would go dead in tow"
      : rung == Rung::time
          ? "it would save running time"
          : fmt::format("it would be better at this step of the ladder: {}", words_for(rung));
  if (std::abs(seconds) >= 1) {
    words +=
        fmt::format(" ({} {} running time)", seconds_words(seconds), seconds > 0 ? "less" : "more");
  }
  return words;
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
  finding.text = fmt::format("With a consent of the infrastructure manager: {} up, {:g} km/h. {}",
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
  return {fmt::format(
      "The plan does without a consent that nobody has named. With consents of the infrastructure "
      "manager for {} {}, {}: see there.",
      where.size() == 1 ? "section" : "sections", listed(where), gain_words(now, granted.cost))};
}

}  // namespace panup
