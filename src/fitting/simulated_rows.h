#pragma once
/// The room `fitting`: the model fitted to what was measured. It changes chosen figures of a
/// contact line and its pantographs until the simulated contact force lies as near to the measured
/// one as it can, says how sure each figure is, and which of them the record cannot tell.
///
/// This header is what a fit is made from, and the force that a line under trial gives.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/words.h"
#include "dynamics/model_input.h"
#include "fitting/fit_rows.h"

namespace panup {

/// What a fit is made from. The line and pantographs are those that it starts with.
struct FitCase {
  ContactLine line;
  std::vector<RunningPantograph> pantographs;
  std::vector<FitRun> runs;
  std::vector<ModelInput> quantities;
  double low_pass_hz = 20;  ///< of the measured force
  int jobs = 1;
  Words words = {};  ///< in which it is said what cannot be told
};

/// Rows of all runs and pantographs, one after the other.
std::vector<FitRow> all_rows(const FitCase& fit);

/// The simulated force at each of `all_rows`, for several sets of factors of the quantities, each
/// the natural logarithm; nothing for a set with which a run is refused. `step_share` shortens the
/// step.
std::vector<std::optional<std::vector<double>>> simulated_rows(
    const FitCase& fit, const std::vector<std::vector<double>>& logarithms, double step_share = 1);

}  // namespace panup
