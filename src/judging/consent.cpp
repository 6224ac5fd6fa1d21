
#include <algorithm>

#include "judging/judge_parts.h"

namespace panup {

namespace {

bool holds_on(const Consent& consent, const Section& section) {
  return consent.sections.empty() ||
         std::ranges::find(consent.sections, section.id) != consent.sections.end();
}

}  // namespace

bool consents_somewhere(const Consent& consent, const Route& route) {
  return std::ranges::any_of(route.sections,
                             [&](const Section& section) { return holds_on(consent, section); });
}

std::vector<const Consent*> consents_on(const Train& train, const Section& section) {
  std::vector<const Consent*> consents;
  for (const Consent& consent : train.consents) {
    if (holds_on(consent, section)) {
      consents.push_back(&consent);
    }
  }
  return consents;
}

const Consent* consent_for(std::span<const Consent* const> consents, std::string_view rule) {
  const auto found =
      std::ranges::find_if(consents, [&](const Consent* consent) { return consent->rule == rule; });
  return found == consents.end() ? nullptr : *found;
}

std::string consent_words(const Consent& consent, const Words& words) {
  return words.say(" Consent {} of {} covers it.", consent.reference, consent.given_by);
}

}  // namespace panup
