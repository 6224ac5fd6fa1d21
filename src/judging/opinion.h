#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "judging/verdict.h"
#include "rules/finding.h"
#include "rules/rule_book.h"

namespace panup {

/// Why a speed is limited: one clause with no full stop, and further sentences, which may be empty.
struct LimitWords {
  std::string reason;
  std::string further = {};
  std::vector<DecidingValue> values = {};  ///< of the input, by which it is so

  std::string text() const { return reason + (further.empty() ? "." : ". " + further); }
};

/// What a finding says, and the values of the input by which it is so.
struct FindingWords {
  FindingWords(std::string words, std::vector<DecidingValue> by = {})
      : text(std::move(words)), values(std::move(by)) {}
  std::string text;
  std::vector<DecidingValue> values;
};

/// " The rule is only for line 7.", or nothing where it holds everywhere.
inline std::string limits_of(const Rule& rule, const Words& words) {
  return rule.only_for.empty()
             ? std::string()
             : words.say(" The rule is {}.", only_for_words(rule.only_for, words));
}

/// Collects what rules say. Without a list it only lowers the verdict, which is what planning
/// needs; with one it also writes the findings, which is what explaining needs. One code serves
/// both.
struct Opinion {
  Verdict& verdict;
  const Words& words;
  std::vector<Finding>* findings = nullptr;
  bool spacing_yields = false;  ///< what spacing says of the speed is said only
  std::string further = {};     ///< added to the text of every finding

  bool explains() const { return findings != nullptr; }
  /// Adds a finding; `text` gives `FindingWords` or a text, and is called only when findings are
  /// collected.
  template <typename Text>
  void say(const Rule& rule, Strength strength, const Text& text) {
    if (explains()) {
      FindingWords said(text());
      findings->push_back(finding_of(rule, strength, said.text + limits_of(rule, words) + further));
      findings->back().values = std::move(said.values);
    }
  }
  /// What the rule wants is so here. That is said as what practice wants, and no more, however
  /// strong the rule is where it is not kept.
  template <typename Text>
  void say_kept(const Rule& rule, const Text& text) {
    say(rule, std::max(rule.strength, Strength::prescribed), text);
    if (explains()) {
      findings->back().kept = true;
    }
  }
  /// What the rule wants is not so here; that is ruled out where the rule forbids it.
  template <typename Text>
  void say_departure(const Rule& rule, const Text& text) {
    verdict.forbidden = verdict.forbidden || rule.strength == Strength::forbidden;
    say(rule, rule.strength, text);
    if (explains()) {
      findings->back().kept = false;
    }
  }
  /// Rules the configuration out.
  template <typename Text>
  void forbid(const Rule& rule, const Text& text) {
    verdict.forbidden = true;
    say(rule, Strength::forbidden, text);
  }
  /// Lowers the speed; the rule that lowers it most decides it, the first of equals, and its
  /// finding is kept. `limit_words` gives `LimitWords`, and is called only when findings are
  /// collected. `shown`: the finding is kept even where another rule decides.
  template <typename Limit>
  void limit(const Rule& rule, double speed_kmh, const Limit& limit_words, bool shown = false) {
    verdict.other_speed_kmh = std::min(verdict.other_speed_kmh, speed_kmh);
    lower(rule, speed_kmh, limit_words, shown);
  }
  /// The same for a speed that follows from number and distance of the raised pantographs.
  template <typename Limit>
  void limit_by_spacing(const Rule& rule, double speed_kmh, const Limit& limit_words,
                        bool shown = false) {
    if (speed_kmh < verdict.spacing_speed_kmh) {
      verdict.spacing_speed_kmh = speed_kmh;
      verdict.spacing_rule = &rule;
    }
    if (spacing_yields) {
      say(rule, Strength::note, [&] { return said_of(limit_words()); });
    } else {
      lower(rule, speed_kmh, limit_words, shown);
    }
  }

  std::optional<std::size_t> deciding = std::nullopt;  ///< index of the finding that decides speed
  bool deciding_shown = false;

 private:
  static FindingWords said_of(const LimitWords& said) { return {said.text(), said.values}; }

  template <typename Limit>
  void lower(const Rule& rule, double speed_kmh, const Limit& limit_words, bool shown) {
    const bool decides = speed_kmh < verdict.speed_kmh;
    if (!decides && !(shown && explains())) {
      return;
    }
    if (decides) {
      verdict.speed_kmh = speed_kmh;
      verdict.speed_rule = &rule;
      if (explains() && deciding && !deciding_shown) {
        findings->erase(findings->begin() + static_cast<std::ptrdiff_t>(*deciding));
      }
      deciding_shown = shown;
    }
    if (explains()) {
      const LimitWords said = limit_words();
      say(rule, Strength::speed_limit, [&] { return said_of(said); });
      findings->back().reason =
          rule.only_for.empty()
              ? said.reason
              : words.say("{}, {}", said.reason, only_for_words(rule.only_for, words));
    }
    if (decides && explains()) {
      deciding = findings->size() - 1;
    }
  }
};

}  // namespace panup
