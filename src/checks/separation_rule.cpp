#include "checks/separation_rule.h"

#include <algorithm>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <tuple>

#include "checks/separation_length.h"
#include "checks/separation_words.h"
#include "checks/train_collectors.h"

namespace panup {

namespace {

/// What was said of passages: failures ask for the same ones again and again, and the reserve is
/// dear to find. Shared by all threads that judge.
class SaidPassages {
 public:
  std::string words_for(const SeparationPassage& passage) {
    const Key key{&passage.section, &passage.judged.train, passage.judged.raised};
    {
      const std::lock_guard lock(mutex_);
      if (const auto said = said_.find(key); said != said_.end()) {
        return said->second;
      }
    }
    std::string words = passing_words(passage);
    const std::lock_guard lock(mutex_);
    said_.try_emplace(key, words);
    return words;
  }

 private:
  using Key = std::tuple<const SeparationSection*, const RunningTrain*, PantographSet>;
  std::mutex mutex_;
  std::map<Key, std::string> said_;
};

/// The rules in force; null where there is none.
struct SeparationRules {
  const Rule* zones = nullptr;
  const Rule* length = nullptr;
  const Rule* unknown = nullptr;
  double strips_not_stated_m = 0;
  std::shared_ptr<SaidPassages> said = std::make_shared<SaidPassages>();
};

/// It hangs on what is not stated.
template <typename Text>
void say_unknown(const SeparationRules& rules, const JudgedCase& judged, Opinion& opinion,
                 const Text& text) {
  if (rules.unknown == nullptr) {
    return;
  }
  if (rules.unknown->strength == Strength::forbidden) {
    opinion.forbid(*rules.unknown, text);
  } else if (const Consent* const consent = consent_for(judged.consents, rules.unknown->id)) {
    opinion.say(*rules.unknown, Strength::note, [&] { return text() + consent_words(*consent); });
  } else {
    opinion.verdict.consent_needed = true;
    opinion.say(*rules.unknown, Strength::consent_needed, text);
  }
}

void judge_by_zones(const SeparationRules& rules, const SeparationPassage& passage,
                    Opinion& opinion) {
  const auto& zones = passage.section.zones;
  const BreakerAt breaker =
      passage.section.breaker_off ? BreakerAt::open : BreakerAt::closed_where_permitted;
  if (passes(zones, passage.raised, breaker)) {
    opinion.say(*rules.zones, Strength::note, [&] { return rules.said->words_for(passage); });
    return;
  }
  const RaisedCollectors known = known_of(passage.raised);
  if (known.joins.size() < passage.raised.joins.size() && passes(zones, known, breaker)) {
    say_unknown(rules, passage.judged, opinion,
                [&] { return unknown_join_words(passage, sweep(zones, passage.raised, breaker)); });
  } else {
    opinion.forbid(*rules.zones,
                   [&] { return forbidden_words(passage, sweep(zones, known, breaker)); });
  }
}

void judge_length(const SeparationRules& rules, const SeparationPassage& passage,
                  Opinion& opinion) {
  const SeparationSection& section = passage.section;
  const bool meaning_is_stated = section.length_meaning != LengthMeaning::not_stated;
  const bool zones_answer = rules.zones != nullptr && !section.zones.empty();
  if (!meaning_is_stated && zones_answer) {
    return;
  }
  const auto judged_with = [&section](const RaisedCollectors& raised) {
    return judge_by_length(section.length_m, section.length_meaning, raised);
  };
  LengthJudgement judgement = judged_with(passage.raised);
  if (judgement.join && passage.raised.joins[*judgement.join].only_possible) {
    // Known joins come first, so that none of them is what decides.
    judgement.answer = LengthAnswer::unknown;
  }
  const auto text = [&] { return length_words(passage, judgement); };
  if (judgement.answer == LengthAnswer::unknown) {
    say_unknown(rules, passage.judged, opinion, text);
  } else if (rules.length == nullptr) {
    return;
  } else if (judgement.answer == LengthAnswer::forbidden) {
    opinion.forbid(*rules.length, text);
  } else {
    opinion.say(*rules.length, Strength::note, text);
  }
}

void judge(const SeparationRules& rules, const JudgedCase& judged, Opinion& opinion) {
  if (judged.raised == 0 || (opinion.verdict.forbidden && !opinion.explains())) {
    return;
  }
  RaisedCollectors raised;
  for (const SeparationSection* const section : judged.separations) {
    if (raised.collectors.empty()) {
      raised = raised_collectors(judged.train, judged.raised, rules.strips_not_stated_m);
    }
    const SeparationPassage passage{.section = *section, .judged = judged, .raised = raised};
    if (rules.zones != nullptr && !section->zones.empty()) {
      judge_by_zones(rules, passage, opinion);
    }
    judge_length(rules, passage, opinion);
  }
}

}  // namespace

FurtherRule separation_rule(const RuleBook& rules) {
  const SeparationRules in_force{.zones = rule_in_force(rules, RuleKind::zones_joined),
                                 .length = rule_in_force(rules, RuleKind::separation_length),
                                 .unknown = rule_in_force(rules, RuleKind::separation_unknown),
                                 .strips_not_stated_m = strips_not_stated_m(rules)};
  return
      [in_force](const JudgedCase& judged, Opinion& opinion) { judge(in_force, judged, opinion); };
}

}  // namespace panup
