#include <fmt/format.h>

#include <algorithm>

#include "judging/judge_parts.h"

namespace panup {

bool holds_on(const Consent& consent, const Section& section) {
  return consent.sections.empty() ||
         std::ranges::find(consent.sections, section.id) != consent.sections.end();
}

const Consent* consent_for(const Train& train, std::string_view rule, const Section& section) {
  const auto found = std::ranges::find_if(train.consents, [&](const Consent& consent) {
    return consent.rule == rule && holds_on(consent, section);
  });
  return found == train.consents.end() ? nullptr : &*found;
}

std::string consent_words(const Consent& consent) {
  return fmt::format(" Consent {} of {} covers it.", consent.reference, consent.given_by);
}

}  // namespace panup
