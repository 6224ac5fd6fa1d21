#pragma once
/// The room `judging`: what the rules of a book say of one configuration on one piece of route. A
/// configuration is the set of pantographs that are up. What is asked of it is a `Judge`, here; the
/// answer is a verdict in numbers, by which planning compares configurations, and on demand
/// findings in words.

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "judging/judged_case.h"
#include "judging/opinion.h"
#include "judging/prepared_rules.h"
#include "judging/verdict.h"
#include "line/route.h"
#include "rules/finding.h"
#include "rules/rule_book.h"

namespace panup {

class KnownRoles;

/// The weather of the day, where a section has none of its own.
struct DayWeather {
  std::optional<double> wind_ms = {};
  std::optional<double> temperature_c = {};
};

/// Judges configurations of one train in one direction by one rule book. The train, the rule book
/// and the computed speeds must outlive it. Judging changes nothing and may be done from several
/// threads.
class Judge {
 public:
  /// Of the weather what is not stated is not known; `computed_speeds` may be null.
  Judge(const RuleBook& rules, const Train& train, bool reversed, const DayWeather& weather = {},
        ComputedSpeeds* computed_speeds = nullptr);

  const RunningTrain& train() const { return running_; }
  const RuleBook& rules() const { return *rules_; }

  /// Pantographs that nothing but a defect keeps down on `section`: fit for system, head, strips,
  /// dropping device and height, not ordered down, and not on a vehicle dead in tow.
  PantographSet usable(const LineProperties& section) const;
  /// The same on a piece of route, each under the wire that is over it.
  PantographSet usable(const Ground& ground) const;

  /// A section behind the front of the train, and the pantographs under its wire.
  struct Behind {
    const Section* section = nullptr;
    PantographSet under;
  };

  /// A piece of `section`, ready to be judged on; the low places must outlive it.
  Ground ground(const Section& section, bool iced, std::vector<const LowPlace*> low_places = {},
                const std::vector<Behind>& behind = {}) const;

  /// What the rules say of `raised`. Pantographs in `defective` count as defective. Findings, if
  /// asked for, come in the order of the rules.
  Verdict judge(const Ground& ground, PantographSet raised, PantographSet defective,
                std::vector<Finding>* findings = nullptr) const;

  /// What the rules say at least of every configuration in which the vehicles of `working` have
  /// something up and no others, if on some of those vehicles exactly `raised` is up: no count is
  /// less there, and no speed greater. What more of the train could make milder is left out:
  /// orders to be up, currents, computed speeds. Only the distances are those of the part.
  /// `working`: any pantographs of the vehicles.
  Verdict judge_part(const Ground& ground, PantographSet raised, PantographSet working) const;

  /// The same of so many raised, wherever they are, if the closest two are `distance_m` apart.
  Verdict judge_spacing(const Ground& ground, std::size_t number, double distance_m) const;

  /// Speed with all pantographs down, by line, vehicles, ice and the speeds for lowering and
  /// raising.
  Verdict judge_lowered(const Ground& ground, std::vector<Finding>* findings = nullptr) const;

  /// The prescribed pantograph of each vehicle (as in `RunningTrain::vehicles`) when exactly those
  /// with a raised one work; empty for one that does not, or where no rule prescribes.
  std::vector<PantographSet> prescribed(const Ground& ground, PantographSet raised) const;

  /// The roles of the vehicles when those that have a pantograph in `raised` work.
  const std::vector<VehicleRole>& roles(PantographSet raised) const;

 private:
  PantographSet not_kept_down() const;
  void look_above_record(const JudgedCase& judged, Opinion& opinion) const;
  void judge_wire_behind(const Ground& ground, const WireBehind& wire, PantographSet raised,
                         Opinion& opinion) const;
  JudgedCase case_of(const Ground& ground, PantographSet raised, PantographSet defective,
                     const std::vector<VehicleRole>& roles) const;

  const RuleBook* rules_;
  RunningTrain running_;
  PreparedRules prepared_;
  std::vector<const Rule*> asked_;          ///< of this train, with pantographs up, in order
  std::vector<const Rule*> asked_lowered_;  ///< of this train, where all have to be down
  LoadProtection protection_;
  std::shared_ptr<KnownRoles> known_roles_;  ///< what was assigned already
};

/// The rule that says what a driver can do in time. What no driver can do is forbidden also by a
/// book without it: then it is one that says so.
const Rule& rule_of_driver(const RuleBook& rules);

/// Whether the consent is for any section of the route.
bool consents_somewhere(const Consent& consent, const Route& route);

/// The consents of the train that hold on the section.
std::vector<const Consent*> consents_on(const Train& train, const Section& section);

/// The first of `consents` that is for what the rule of this id says; null if there is none.
const Consent* consent_for(std::span<const Consent* const> consents, std::string_view rule);

/// " Consent NV-1 of Nordvale Infrastructure covers it.", to follow the text of a finding.
std::string consent_words(const Consent& consent, const Words& words);

}  // namespace panup
