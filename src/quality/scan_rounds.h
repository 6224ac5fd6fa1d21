#pragma once

#include <optional>
#include <vector>

#include "quality/coarse_runs.h"
#include "quality/evaluated_line.h"
#include "quality/permitted_speed.h"
#include "quality/speed_scan.h"

namespace panup {

/// Where the judgements of speeds come from.
struct Judging {
  const RuleBook& rules;
  EvaluatedLines& lines;
  const RunSource& runs;
  CoarseRunsByLine& coarse;
  /// Runs in a longer step decide however near to a limit they are: quick, and only about right.
  bool at_first_sight = false;
};

struct AskedSpeed {
  const SpeedQuestion* question = nullptr;
  double speed_kmh = 0;
  bool in_rule_step = false;  ///< no run in a longer step will do
};

/// The runs in the step of the rule book; those refused in it, in the step that the mechanics takes
/// by itself, because a line may need a finer one. Nothing where the runs were stopped.
std::optional<std::vector<RunFigures>> run_in_rule_step(const RuleBook& rules,
                                                        const RunSource& runs,
                                                        std::vector<SimulationRequest> requests);

/// Judges each speed asked, by a run in a longer step where that decides; nothing where the runs
/// were stopped.
std::optional<std::vector<Judgement>> judge_speeds(const Judging& judging,
                                                   const std::vector<AskedSpeed>& asked);

/// Finishes the scan of each question, all side by side. False where the runs were stopped.
bool finish_scans(const Judging& judging, const std::vector<SpeedQuestion>& questions,
                  std::vector<SpeedScan>& scans);

/// The rule of kind `speed-by-mechanics`, which must be in force.
const Rule& mechanics_rule(const RuleBook& rules);

}  // namespace panup
