#include "plan/section_findings.h"

#include <algorithm>

namespace panup {

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

const Finding* deciding_finding(const Verdict& verdict, const std::vector<Finding>& findings) {
  const auto found = std::ranges::find_if(findings, [&](const Finding& finding) {
    return verdict.speed_rule != nullptr && finding.strength == Strength::speed_limit &&
           finding.rule == verdict.speed_rule->id;
  });
  return found == findings.end() ? nullptr : &*found;
}

void add_finding_at(const PlanRequest& request, double km, Finding finding,
                    std::vector<PlannedSection>& sections) {
  const Train& train = request.train;
  const Route& route = request.route;
  const auto section = std::ranges::find_if(
      sections, [km](const PlannedSection& candidate) { return km <= candidate.to_km; });
  if (section == sections.end() || section->answer == Answer::none) {
    return;
  }
  if (finding.strength == Strength::consent_needed) {
    const Consent* const consent =
        consent_for(consents_on(train, route.sections[section->section]), finding.rule);
    if (consent == nullptr) {
      section->answer = std::max(section->answer, Answer::consent_needed);
    } else {
      finding.strength = Strength::note;
      finding.text += consent_words(*consent, request.rules.words);
      finding.rests_on = {consent->reference, consent->given_by};
    }
  }
  section->findings.push_back(std::move(finding));
  std::ranges::stable_sort(section->findings, {}, &Finding::strength);
}

void name_sections(const Route& route, const Section& front, std::vector<Finding>& findings,
                   const Words& words) {
  for (Finding& finding : findings) {
    for (DecidingValue& value : finding.values) {
      if (value.of != ValueOf::section) {
        continue;
      }
      const auto named = std::ranges::find(route.sections, value.id, &Section::id);
      const Section& section = value.id.empty() || named == route.sections.end() ? front : *named;
      value.id = section.id;
      value.source = source_words(section.provenance, value.key, words);
    }
  }
}

std::size_t piece_reaching(const PlanningCase& planning, double km) {
  std::size_t piece = 0;
  while (piece + 1 < planning.pieces.size() && planning.pieces[piece].to_km < km) {
    ++piece;
  }
  return piece;
}

}  // namespace panup
