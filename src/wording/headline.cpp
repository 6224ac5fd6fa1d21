#include "wording/headline.h"

#include <algorithm>

#include "base/capitals.h"

namespace panup {

namespace {

bool accepts_last_resort(const PlannedSection& section) {
  return section.answer != Answer::none &&
         std::ranges::find(section.findings, Strength::last_resort, &Finding::strength) !=
             section.findings.end();
}

/// What follows the answer itself: where it holds.
std::string answer_where(const Plan& plan) {
  const Words& words = plan.words;
  const std::string consent_on = stretches_with(plan.sections, Answer::consent_needed, words);
  if (plan.answer == Answer::consent_needed) {
    return words.say(" on {}: of the infrastructure manager, or evidence", consent_on);
  }
  if (plan.answer == Answer::permitted) {
    return {};
  }
  const bool any_consent = std::ranges::find(plan.sections, Answer::consent_needed,
                                             &PlannedSection::answer) != plan.sections.end();
  const std::string none_on = stretches_with(plan.sections, Answer::none, words);
  return any_consent ? words.say(" on {}; consent of the infrastructure manager needed on {}",
                                 none_on, consent_on)
                     : words.say(" on {}", none_on);
}

}  // namespace

std::vector<KmStretch> last_resorts(const Plan& plan) {
  std::vector<KmStretch> found;
  for (const PlannedSection& section : plan.sections) {
    if (accepts_last_resort(section)) {
      append(found, {section.from_km, section.to_km});
    }
  }
  return found;
}

std::vector<ConsentNamed> consents_used(const Plan& plan) {
  std::vector<ConsentNamed> used;
  for (const Consent& consent : plan.train.consents) {
    const ConsentNamed named{consent.reference, consent.given_by};
    const auto rests_on_it = [&](const Finding& finding) { return finding.rests_on == named; };
    const bool counts = std::ranges::any_of(plan.sections, [&](const PlannedSection& section) {
      return std::ranges::any_of(section.findings, rests_on_it);
    });
    if (counts && std::ranges::find(used, named) == used.end()) {
      used.push_back(named);
    }
  }
  return used;
}

std::string headline(const Plan& plan) {
  std::string words = capitalised(plan.words.named(name_of(plan.answer)));
  if (plan.answer != Answer::none && !last_resorts(plan).empty()) {
    words += plan.words.say(", last resort accepted");
  }
  return words;
}

std::string answer_words(const Plan& plan) {
  std::string words = capitalised(plan.words.named(name_of(plan.answer))) + answer_where(plan);
  if (plan.answer == Answer::none) {
    return words + ".";
  }
  const std::vector<KmStretch> resorts = last_resorts(plan);
  if (!resorts.empty()) {
    const std::string where = km_list(resorts, plan.words);
    words += plan.answer == Answer::permitted
                 ? plan.words.say(", last resort accepted on {}", where)
                 : plan.words.say("; last resort accepted on {}", where);
  }
  return words + ".";
}

std::string running_words(const Plan& plan) {
  return plan.answer == Answer::none || plan.running_time_s <= 0
             ? std::string()
             : plan.words.say("Running time {}, stops not counted.",
                              duration_words(plan.running_time_s, plan.words));
}

std::vector<std::string> exposure_sentences(const Plan& plan) {
  struct Exposure {
    ExposedLoad load;
    std::vector<KmStretch> where;
  };
  std::vector<Exposure> all;
  for (const PlannedSection& section : plan.sections) {
    for (const ExposedLoad& load : section.exposed) {
      auto same = std::ranges::find(all, load, &Exposure::load);
      if (same == all.end()) {
        same = all.insert(all.end(), {load, {}});
      }
      append(same->where, {section.from_km, section.to_km});
    }
  }
  std::vector<std::string> sentences(all.size());
  std::ranges::transform(all, sentences.begin(), [&plan](const Exposure& one) {
    return plan.words.say("The {} on {}.", exposure_words(one.load, plan.words),
                          km_list(one.where, plan.words));
  });
  return sentences;
}

}  // namespace panup
