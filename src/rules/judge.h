#pragma once

#include <algorithm>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "line/route.h"
#include "rules/finding.h"
#include "rules/rule_book.h"
#include "rules/running_train.h"
#include "rules/verdict.h"

namespace panup {

/// A piece of route as the rules see it; made by `Judge::ground`.
/// It holds all that judging reads of a piece, besides train, direction and rules: the same
/// configuration on two pieces that compare equal is judged alike.
struct Ground {
  LineProperties section;
  bool iced = false;
  PantographSet fit = 0;  ///< for the system and admitted by the section, defective or not
  /// Separation sections, passed with pantographs up, that the train stands over on the piece.
  std::vector<const SeparationSection*> separations = {};
  std::vector<const LowPlace*> low_places = {};  ///< that the train stands under on the piece
  std::vector<const Consent*> consents = {};     ///< of the train, that hold on the section
  friend auto operator<=>(const Ground&, const Ground&) = default;
};

/// A configuration on a piece of route, with what every rule needs to know of it.
struct JudgedCase {
  const RunningTrain& train;
  const LineProperties& section;
  bool iced = false;
  PantographSet fit = 0;  ///< for the system and admitted by the section, defective or not
  PantographSet raised = 0;
  PantographSet defective = 0;
  const std::vector<VehicleRole>& roles;
  std::vector<int> raised_bits;                                ///< front first
  std::span<const SeparationSection* const> separations = {};  ///< as in `Ground`
  std::span<const LowPlace* const> low_places = {};            ///< as in `Ground`
  std::span<const Consent* const> consents = {};               ///< as in `Ground`
};

/// Why a speed is limited: one clause with no full stop, and further sentences, which may be empty.
struct LimitWords {
  std::string reason;
  std::string further = {};

  std::string text() const { return reason + (further.empty() ? "." : ". " + further); }
};

/// Collects what rules say. Without a list it only lowers the verdict, which is what planning
/// needs; with one it also writes the findings, which is what explaining needs. One code serves
/// both.
struct Opinion {
  Verdict& verdict;
  std::vector<Finding>* findings = nullptr;
  bool spacing_yields = false;  ///< what spacing says of the speed is said only

  bool explains() const { return findings != nullptr; }
  /// Adds a finding; `text` is called only when findings are collected.
  template <typename Text>
  void say(const Rule& rule, Strength strength, const Text& text) {
    if (explains()) {
      findings->push_back({rule.id, strength, rule.standing, text(), rule.source});
    }
  }
  /// The same for what the driver has to know.
  template <typename Text>
  void tell_driver(const Rule& rule, Strength strength, const Text& text) {
    say(rule, strength, text);
    if (explains()) {
      findings->back().for_driver = true;
    }
  }
  /// Rules the configuration out.
  template <typename Text>
  void forbid(const Rule& rule, const Text& text) {
    verdict.forbidden = true;
    say(rule, Strength::forbidden, text);
  }
  /// Lowers the speed; the rule that lowers it most decides it, the first of equals, and its
  /// finding is kept. `words` gives `LimitWords`, and is called only when findings are collected.
  /// `shown`: the finding is kept even where another rule decides.
  template <typename Words>
  void limit(const Rule& rule, double speed_kmh, const Words& words, bool shown = false) {
    verdict.other_speed_kmh = std::min(verdict.other_speed_kmh, speed_kmh);
    lower(rule, speed_kmh, words, shown);
  }
  /// The same for a speed that follows from number and distance of the raised pantographs.
  template <typename Words>
  void limit_by_spacing(const Rule& rule, double speed_kmh, const Words& words,
                        bool shown = false) {
    if (speed_kmh < verdict.spacing_speed_kmh) {
      verdict.spacing_speed_kmh = speed_kmh;
      verdict.spacing_rule = &rule;
    }
    if (spacing_yields) {
      say(rule, Strength::note, [&] { return LimitWords(words()).text(); });
    } else {
      lower(rule, speed_kmh, words, shown);
    }
  }

  std::optional<std::size_t> deciding = std::nullopt;  ///< index of the finding that decides speed
  bool deciding_shown = false;

 private:
  template <typename Words>
  void lower(const Rule& rule, double speed_kmh, const Words& words, bool shown) {
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
      const LimitWords said = words();
      say(rule, Strength::speed_limit, [&] { return said.text(); });
      findings->back().reason = said.reason;
    }
    if (decides && explains()) {
      deciding = findings->size() - 1;
    }
  }
};

/// A rule that is not an entry of the book: a speed limit computed elsewhere, or further findings.
/// It is asked after the book and may lower the verdict, never raise it.
using FurtherRule = std::function<void(const JudgedCase&, Opinion&)>;

/// What judges beside the rule book. Must be safe from any thread.
struct OutsideRules {
  std::vector<FurtherRule> further;
  /// Whether one of them gives the speed in place of records and design types; none: never.
  std::function<bool(const JudgedCase&)> spacing_yields;
};

/// Judges configurations of one train in one direction by one rule book. The train and the rule
/// book must outlive it. Judging changes nothing and may be done from several threads.
class Judge {
 public:
  Judge(const RuleBook& rules, const Train& train, bool reversed, OutsideRules outside = {});

  const RunningTrain& train() const { return running_; }
  const RuleBook& rules() const { return *rules_; }

  /// Pantographs that nothing but a defect keeps down on `section`: fit for system, head, strips,
  /// dropping device and height, not ordered down, and not on a vehicle dead in tow.
  PantographSet usable(const LineProperties& section) const;

  /// A piece of `section`, ready to be judged on; the low places must outlive it.
  Ground ground(const Section& section, bool iced,
                std::vector<const LowPlace*> low_places = {}) const;

  /// What the rules say of `raised`. Pantographs in `defective` count as defective. Findings, if
  /// asked for, come in the order of the rules.
  Verdict judge(const Ground& ground, PantographSet raised, PantographSet defective,
                std::vector<Finding>* findings = nullptr) const;

  /// Speed with all pantographs down, by line, vehicles, ice and the speeds for lowering and
  /// raising.
  Verdict judge_lowered(const Ground& ground, std::vector<Finding>* findings = nullptr) const;

  /// The prescribed pantograph of each vehicle (as in `RunningTrain::vehicles`) when exactly those
  /// with a raised one work; empty for one that does not, or where no rule prescribes.
  std::vector<PantographSet> prescribed(const Ground& ground, PantographSet raised) const;

  /// The roles of the vehicles when those that have a pantograph in `raised` work.
  const std::vector<VehicleRole>& roles(PantographSet raised) const;

 private:
  std::size_t working_index(PantographSet raised) const;

  const RuleBook* rules_;
  RunningTrain running_;
  OutsideRules outside_;
  std::vector<const Rule*> in_force_;
  std::vector<std::vector<VehicleRole>> roles_;  ///< by set of working vehicles
};

/// The consents of the train that hold on the section.
std::vector<const Consent*> consents_on(const Train& train, const Section& section);

/// The first of `consents` that is for what the rule of this id says; null if there is none.
const Consent* consent_for(std::span<const Consent* const> consents, std::string_view rule);

/// " Consent NV-1 of Nordvale Infrastructure covers it.", to follow the text of a finding.
std::string consent_words(const Consent& consent);

/// The rule of a kind that is in force; null if there is none. Where several are, the first.
const Rule* rule_in_force(const RuleBook& rules, RuleKind kind);

/// A numeric parameter of a rule; nothing if not stated.
std::optional<double> number_of(const Rule& rule, std::string_view key);

}  // namespace panup
