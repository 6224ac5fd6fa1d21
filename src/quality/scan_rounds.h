#pragma once

#include <optional>
#include <vector>

#include "quality/evaluated_line.h"
#include "quality/permitted_speed.h"
#include "quality/speed_scan.h"

namespace panup {

/// Where the judgements of speeds come from.
struct Judging {
  const RuleBook& rules;
  EvaluatedLines& lines;
  const RunSource& runs;
};

struct AskedSpeed {
  const SpeedQuestion* question = nullptr;
  double speed_kmh = 0;
};

/// The runs in the step of the rule book; those refused in it, in the step that the mechanics takes
/// by itself, because a line may need a finer one. Nothing where the runs were stopped.
std::optional<std::vector<RunFigures>> run_in_rule_step(const Judging& judging,
                                                        std::vector<SimulationRequest> requests);

/// Judges each speed asked; nothing where the runs were stopped.
std::optional<std::vector<Judgement>> judge_speeds(const Judging& judging,
                                                   const std::vector<AskedSpeed>& asked);

/// Finishes the scan of each question, all side by side. False where the runs were stopped.
bool finish_scans(const Judging& judging, const std::vector<SpeedQuestion>& questions,
                  std::vector<SpeedScan>& scans);

/// The rule of kind `speed-by-mechanics`, which must be in force.
const Rule& mechanics_rule(const RuleBook& rules);

}  // namespace panup
