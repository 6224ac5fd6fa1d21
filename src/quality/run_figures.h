#pragma once
/// The room `quality`: the quality of current collection, judged. It asks the mechanics for runs,
/// holds their figures against the criteria of a rule book, and finds the speed that a
/// configuration is permitted on a contact line, for one distance or a whole envelope of them. It
/// knows nothing of files, trains and screens, and not where runs are computed or kept.
///
/// This header is what is kept of a run: the figures that criteria ask for, without histories.

#include <cmath>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// One pantograph over the evaluated stretch; as in `PantographRun`.
struct PantographFigures {
  double mean_n = 0;
  double std_n = 0;
  double max_n = 0;
  double min_n = 0;
  double contact_loss_percent = 0;
  double longest_contact_loss_ms = 0;
  double least_unfiltered_n = INFINITY;  ///< of the contact force; infinite where not known

  bool operator==(const PantographFigures&) const = default;
};

/// The figures of a run, or why there is none.
struct RunFigures {
  std::vector<PantographFigures> pantographs;  ///< first in front; empty where the run was refused
  double wave_speed_kmh = 0;                   ///< of the contact wire, in the run's weather
  double max_support_uplift_mm = 0;
  double max_span_uplift_mm = 0;
  std::vector<Sentence> refusals;
  std::vector<Warning> warnings;  ///< of the run

  bool operator==(const RunFigures&) const = default;
};

RunFigures figures_of(const SimulationOutcome& outcome);

/// Where runs come from: computes them, or finds them where they are kept. Figures in the order of
/// the requests; nothing where it was stopped before all were there. Each request's line must
/// outlive the call.
using RunSource =
    std::function<std::optional<std::vector<RunFigures>>(const std::vector<SimulationRequest>&)>;

/// What computing runs has cost so far.
struct RunsSpent {
  std::size_t runs = 0;
  double core_s = 0;  ///< seconds of one processor
};

/// Processor time that all threads of this process have taken, in seconds.
double core_seconds();

/// The runs of `source`, whose cost is added to `spent`, which must outlive it.
RunSource metered(RunSource source, RunsSpent& spent);

/// Computes every run on `jobs` threads (0: as many as there are processors).
RunSource computed_runs(int jobs);

}  // namespace panup
