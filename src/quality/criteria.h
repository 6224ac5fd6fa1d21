#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/energy_supply.h"
#include "quality/run_figures.h"
#include "rules/rule_book.h"

namespace panup {

/// What the criteria ask for beside the figures of a run.
struct RunFacts {
  double speed_kmh = 0;
  double wave_speed_kmh = 0;           ///< of the contact wire, as built
  std::optional<EnergySupply> supply;  ///< nothing: criteria of some systems only are not asked
  std::optional<double> uplift_space_mm;
  bool uplift_limited_by_design = false;
  /// The figures were measured, and have nothing of a simulation's uncertainty.
  bool measured = false;
};

RunFacts facts_of(const ContactLine& line, std::optional<EnergySupply> supply, double speed_kmh);

/// What one criterion says of one pantograph, or of the line.
struct CriterionMargin {
  std::string rule;    ///< its id
  int pantograph = 0;  ///< counted from the front from 1; 0: the line
  bool met = false;
  double margin = 0;  ///< as in `Judgement`
  std::string text;   ///< figure and limit, in one clause
  friend bool operator==(const CriterionMargin&, const CriterionMargin&) = default;
};

/// A speed that was looked at, with every criterion.
struct JudgedSpeed {
  double speed_kmh = 0;
  bool passes = false;
  std::vector<PantographFigures> pantographs;  ///< first in front; empty where there was no run
  std::vector<CriterionMargin> criteria;       ///< in the order of the rule book
  std::string refused;                         ///< why there was no run; else empty
  bool coarse = false;                         ///< of a run in a longer step; see `CoarseRuns`
  friend bool operator==(const JudgedSpeed&, const JudgedSpeed&) = default;
};

/// A run held against the criteria of a rule book. The margin of a criterion is what is left to its
/// limit, as a share of the limit (of the corridor's width for the mean force); below 0 it is not
/// met. It lies between -1 and 1.
struct Judgement {
  bool passes = false;
  double margin = 1;  ///< the least of all
  /// The least of the criteria that swing with speed, as waves meet in and out of phase: all but
  /// mean contact force and wave speed, which rise or fall evenly. For contact loss, no more than
  /// the least unfiltered force as a share of the mean. That of a run in a longer step is less by
  /// all that the run may be off.
  double swinging_margin = 1;
  std::string criterion;  ///< id of the rule with the least margin; empty where none was asked
  RuleKind kind{};        ///< of that rule
  int pantograph = 0;     ///< the one it concerns, counted from the front from 1; 0: the line
  std::string text;       ///< that rule's figures, in one clause
  bool refused = false;   ///< there was no run to judge; `text` says why
  bool coarse = false;    ///< of a run in a longer step, which decides; see `CoarseRuns`
  std::vector<PantographFigures> pantographs;  ///< of the run; empty where there was none
  /// The least of the limits in force of the statistical maximum; nothing where there is none.
  std::optional<double> greatest_force_n;
  std::vector<CriterionMargin> criteria;  ///< all that were asked, in the order of the rule book
  std::vector<Warning> warnings;          ///< of the run
};

/// Holds a run against every criterion in force. A refused run does not pass.
Judgement judge_run(const RuleBook& rules, const RunFacts& facts, const RunFigures& figures);

/// The judgement of a speed that no run is needed for: too near the wave speed. Nothing if a run is
/// needed.
std::optional<Judgement> judge_without_run(const RuleBook& rules, const RunFacts& facts);

/// The criteria in force with their sources, one line each; those that speak of other systems left
/// out.
std::vector<std::string> criteria_in_words(const RuleBook& rules,
                                           std::optional<EnergySupply> supply);

/// What cannot be asked, and why, one sentence each.
std::vector<std::string> not_judged(const RuleBook& rules, std::optional<EnergySupply> supply,
                                    const ContactLine& line);

}  // namespace panup
