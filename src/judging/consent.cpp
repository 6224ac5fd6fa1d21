#include <fmt/format.h>

#include <algorithm>

#include "judging/judge_parts.h"

namespace panup {

std::vector<const Consent*> consents_on(const Train& train, const Section& section) {
  std::vector<const Consent*> consents;
  for (const Consent& consent : train.consents) {
    if (consent.sections.empty() ||
        std::ranges::find(consent.sections, section.id) != consent.sections.end()) {
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

std::string consent_words(const Consent& consent) {
  return fmt::format(" Consent {} of {} covers it.", consent.reference, consent.given_by);
}

}  // namespace panup
