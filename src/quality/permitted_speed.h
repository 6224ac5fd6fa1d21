#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "quality/criteria.h"
#include "quality/run_figures.h"
#include "rules/rule_book.h"

namespace panup {

/// Where a line does not state how stiff its messenger supports are: the permitted speed with
/// either of two figures for it. The lower one is permitted.
struct SpeedBySupports {
  double stiff_kmh = 0;  ///< with `stiff_messenger_support_n_per_m`
  double soft_kmh = 0;   ///< with `soft_messenger_support_n_per_m`
  bool soft_decides = false;
  friend bool operator==(const SpeedBySupports&, const SpeedBySupports&) = default;
};

/// One sentence on what that makes of the permitted speed of a line.
std::string in_words(const SpeedBySupports& speeds, const std::string& line_id,
                     const Words& words = {});

/// What a figure of a run becomes when one input is put at either end of its tolerance.
struct InputEffect {
  std::string input;      ///< as in "the tension of the contact wire"
  std::string tolerance;  ///< as in "±5 %"
  double least = 0;       ///< of the figure, that of the data among them
  double greatest = 0;
  friend bool operator==(const InputEffect&, const InputEffect&) = default;
};

/// The figure that decided a permitted speed, and what it hangs on.
struct HangsOn {
  double speed_kmh = 0;  ///< the lowest that fails
  int pantograph = 0;    ///< counted from the front from 1
  bool is_loss = false;  ///< contact loss in percent of the time; else the standard deviation in N
  double figure = 0;
  std::vector<InputEffect> inputs;  ///< the two that move it most, that one first
  friend bool operator==(const HangsOn&, const HangsOn&) = default;
};

/// Two sentences: what the figure hangs on, and that it is worth measuring.
std::string in_words(const HangsOn& hangs_on, const Words& words = {});

/// The greatest speed below which every speed passes, as far as was looked.
struct PermittedSpeed {
  double speed_kmh = 0;  ///< 0: the lowest speed looked at fails already
  /// The lowest speed that fails; nothing where all up to `looked_to_kmh` pass.
  std::optional<double> fails_at_kmh;
  double looked_from_kmh = 0;
  double looked_to_kmh = 0;
  double step_kmh = 0;        ///< greatest of the scan; finer where margins are small
  double edge_error_kmh = 0;  ///< between the last speed that passes and the first that fails
  std::string criterion;      ///< id of the rule that decides: at the edge, or with least margin
  RuleKind kind{};            ///< of that rule
  double margin = 0;          ///< of that rule: below 0 at the failing speed; else the least seen
  int pantograph = 0;         ///< that decides, counted from the front from 1; 0: the line
  std::string text;           ///< what decides, in one clause with figures
  std::vector<PantographFigures> pantographs;  ///< at `speed_kmh`, first in front; may be empty
  std::optional<double> greatest_force_n;      ///< limit of their statistical maximum there
  std::vector<JudgedSpeed> judged;             ///< all speeds that were looked at, rising
  std::vector<Warning> warnings;               ///< of runs up to `speed_kmh`, each doubt once
  std::optional<SpeedBySupports> by_supports;  ///< nothing where the line states their stiffness
  std::optional<HangsOn> hangs_on;             ///< nothing: not asked, or another criterion decides
  bool refused = false;  ///< the failing speed has no run: the mechanics cannot say; see `text`
};

/// The one of two that permits less.
const PermittedSpeed& worse_of(const PermittedSpeed& a, const PermittedSpeed& b);

/// Raised pantographs on a contact line, whose permitted speed is asked for.
struct SpeedQuestion {
  const ContactLine* line = nullptr;  ///< as in its file; must outlive the call
  std::vector<RunningPantograph> pantographs;
  std::optional<EnergySupply> supply;
  SimulationSettings settings;  ///< its step is that of the rule book
  double to_kmh = 0;            ///< the greatest speed of interest
  bool line_as_it_is = false;   ///< the line is run as it is, neither cut nor drawn out
  /// The line that this one was drawn from, whose runs in a longer step are as far off; nothing:
  /// it stands for itself.
  const ContactLine* drawn_from = nullptr;
};

/// Adds what is to be doubted of the static forces, each doubt once; nothing if no speed passes. It
/// hangs on the system, and runs know nothing of that.
void add_static_force_warnings(PermittedSpeed& permitted, const SpeedQuestion& question);

/// The permitted speed for each question, in their order; nothing where the runs were stopped. The
/// rule book has a rule of kind `speed-by-mechanics` in force.
std::optional<std::vector<PermittedSpeed>> permitted_speeds(
    const std::vector<SpeedQuestion>& questions, const RuleBook& rules, const RunSource& runs);

/// The same by runs in a longer step, however near to a limit they are: soon there and only about
/// right, to be looked at until the permitted speeds are known, and not to be handed out.
std::optional<std::vector<PermittedSpeed>> speeds_at_first_sight(
    const std::vector<SpeedQuestion>& questions, const RuleBook& rules, const RunSource& runs);

}  // namespace panup
