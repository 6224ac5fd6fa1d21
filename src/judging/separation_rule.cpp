#include "judging/separation_rule.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <tuple>

#include "judging/deciding_values.h"
#include "judging/facts/separation_length.h"
#include "judging/judge.h"
#include "judging/judge_parts.h"
#include "judging/prepared_rules.h"
#include "judging/separation_words.h"

namespace panup {

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

namespace {

/// Whether nothing is asked: nothing is up, or it is ruled out already and nobody wants to know
/// why.
bool is_idle(const JudgedCase& judged, const Opinion& opinion) {
  return judged.raised.empty() || (opinion.verdict.forbidden && !opinion.explains());
}

/// What a rule says of a passage. Unknown: it hangs on what is not stated.
enum class Says : std::uint8_t { passes, forbidden, unknown };

BreakerAt breaker_at(const SeparationSection& section) {
  return section.breaker_off ? BreakerAt::open : BreakerAt::closed_where_permitted;
}

Says by_zones(const SeparationPassage& passage) {
  const auto& zones = passage.section.zones;
  const BreakerAt breaker = breaker_at(passage.section);
  if (passes(zones, passage.raised, breaker)) {
    return Says::passes;
  }
  const RaisedCollectors known = known_of(passage.raised);
  return known.joins.size() < passage.raised.joins.size() && passes(zones, known, breaker)
             ? Says::unknown
             : Says::forbidden;
}

/// Whether only a line that is possible, and not known, could be in the way.
bool may_be_unknown_by_zones(const SeparationPassage& passage) {
  return std::ranges::any_of(passage.raised.joins, &HighVoltageJoin::only_possible);
}

/// Nothing where the length says nothing: it is not stated what it means, and zones answer.
std::optional<LengthJudgement> by_length(const SeparationPassage& passage) {
  const SeparationSection& section = passage.section;
  const bool zones_answer = passage.judged.prepared.separation.by_zones && !section.zones.empty();
  if (section.length_meaning == LengthMeaning::not_stated && zones_answer) {
    return std::nullopt;
  }
  LengthJudgement judgement =
      judge_by_length(section.length_m, section.length_meaning, passage.raised);
  if (judgement.join && passage.raised.joins[*judgement.join].only_possible) {
    // Known joins come first, so that none of them is what decides.
    judgement.answer = LengthAnswer::unknown;
  }
  return judgement;
}

/// What the section states under two keys, and the places of the raised pantographs.
std::vector<DecidingValue> values_of_passage(const SeparationPassage& passage, const char* key,
                                             const char* second) {
  const Words& words = passage.judged.words();
  std::vector<DecidingValue> values{value_of(passage.section, key, words)};
  if (second != nullptr) {
    values.push_back(value_of(passage.section, second, words));
  }
  std::ranges::move(values_of_distances(passage.judged), std::back_inserter(values));
  return values;
}

/// By the zones, and by whether the breaker is off there.
std::vector<DecidingValue> values_of_zones(const SeparationPassage& passage) {
  return values_of_passage(passage, "zone", "breaker_off");
}

/// By the length, and by what is stated of it.
std::vector<DecidingValue> values_of_length(const SeparationPassage& passage) {
  const bool is_stated = passage.section.length_meaning != LengthMeaning::not_stated;
  return values_of_passage(passage, "length_m", is_stated ? "length_is" : nullptr);
}

/// Calls `judge_one` with every separation section that the train stands over.
template <typename JudgeOne>
void judge_each(const JudgedCase& judged, const Opinion& opinion, const JudgeOne& judge_one) {
  if (is_idle(judged, opinion)) {
    return;
  }
  for (const SeparationSection* const section : judged.separations) {
    judge_one(
        SeparationPassage{.section = *section, .judged = judged, .raised = judged.collectors()});
  }
}

/// It hangs on what is not stated.
template <typename Text>
void say_unknown(const Rule& rule, const JudgedCase& judged, Opinion& opinion, const Text& text) {
  if (rule.strength == Strength::forbidden) {
    opinion.forbid(rule, text);
  } else {
    ask_consent(rule, judged, opinion, text);
  }
}

}  // namespace

void judge_zones_joined(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  judge_each(judged, opinion, [&](const SeparationPassage& passage) {
    const auto& zones = passage.section.zones;
    if (zones.empty()) {
      return;
    }
    const Says says = by_zones(passage);
    if (says == Says::passes) {
      opinion.say(rule, Strength::note, [&] {
        return FindingWords(judged.prepared.separation.said->words_for(passage),
                            values_of_zones(passage));
      });
    } else if (says == Says::forbidden) {
      opinion.forbid(rule, [&] {
        return FindingWords(forbidden_words(passage, sweep(zones, known_of(passage.raised),
                                                           breaker_at(passage.section))),
                            values_of_zones(passage));
      });
    }
  });
}

void judge_separation_length(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  judge_each(judged, opinion, [&](const SeparationPassage& passage) {
    const auto judgement = by_length(passage);
    if (!judgement || judgement->answer == LengthAnswer::unknown) {
      return;
    }
    const auto text = [&] {
      return FindingWords(length_words(passage, *judgement), values_of_length(passage));
    };
    if (judgement->answer == LengthAnswer::forbidden) {
      opinion.forbid(rule, text);
    } else {
      opinion.say(rule, Strength::note, text);
    }
  });
}

void judge_separation_unknown(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  judge_each(judged, opinion, [&](const SeparationPassage& passage) {
    const auto& zones = passage.section.zones;
    if (judged.prepared.separation.by_zones && !zones.empty() && may_be_unknown_by_zones(passage) &&
        by_zones(passage) == Says::unknown) {
      say_unknown(rule, judged, opinion, [&] {
        return FindingWords(
            unknown_join_words(passage, sweep(zones, passage.raised, breaker_at(passage.section))),
            values_of_zones(passage));
      });
    }
    const auto judgement = by_length(passage);
    if (judgement && judgement->answer == LengthAnswer::unknown) {
      say_unknown(rule, judged, opinion, [&] {
        return FindingWords(length_words(passage, *judgement), values_of_length(passage));
      });
    }
  });
}

SeparationRules separation_rules(const RuleBook& rules) {
  return {.by_zones = rule_in_force(rules, RuleKind::zones_joined) != nullptr,
          .strips_not_stated_m = strips_not_stated_m(rules),
          .said = std::make_shared<SaidPassages>()};
}

double strips_not_stated_m(const RuleBook& rules) {
  const auto rule = std::ranges::find(rules.rules, RuleKind::zones_joined, &Rule::kind);
  return rule == rules.rules.end() ? 0 : number_of(*rule, "strips_not_stated_m").value_or(0);
}

}  // namespace panup
