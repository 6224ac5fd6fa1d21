#pragma once

#include <string>
#include <vector>

#include "fitting/simulated_rows.h"

namespace panup {

/// A quantity that was asked for.
struct FittedValue {
  ModelInput quantity{};
  double start = 0;  ///< as the files have it
  bool told = false;
  double value = 0;     ///< fitted; the start where the record cannot tell
  double least = 0;     ///< of the interval of 95 %; 0 where it is not told
  double greatest = 0;  ///< likewise
  std::string why_not;  ///< what the record lacks; else empty
};

/// Root mean square of measured less simulated force.
struct FitResiduals {
  double before_n = 0;
  double after_n = 0;
};

struct FitOutcome {
  std::vector<FittedValue> values;  ///< in the order asked
  FitResiduals fitted;              ///< over the rows that were fitted
  FitResiduals left_out;            ///< over those that were left out
  std::size_t rows_fitted = 0;
  std::size_t rows_left_out = 0;
  int simulations = 0;
  bool converged = false;
  /// Whether the left-out rows lie nearer the fitted line than the one it started from.
  bool borne_out() const { return left_out.after_n < left_out.before_n; }
  std::string refused;                         ///< why there is no fit; else empty
  ContactLine line;                            ///< fitted
  std::vector<RunningPantograph> pantographs;  ///< fitted
};

/// An interval wider than this factor to either side says nothing: the record cannot tell.
inline constexpr double widest_factor = 2;
/// No quantity is looked for further from its start than this factor.
inline constexpr double farthest_factor = 30;

/// Fits the quantities by least squares of measured less simulated force, by Ceres' trust region on
/// the logarithms of their factors, derivatives by differences of the simulation. The search takes
/// three times the default step, which costs a ninth; Gauss-Newton moves with its derivatives and
/// the misfit of the default step then lead to where that is least.
///
/// Intervals are of 95 %, by Student's t, from s² (JᵀJ)⁻¹ times 1 + 2 Σ ρₖ, by which neighbouring
/// rows that swing together say less than as many that swing on their own. To it comes the error of
/// the simulation itself: twice what the step still does to the answer, to first order, told from
/// the two steps.
///
/// A quantity whose interval is wider than `widest_factor`, that moves the force by nothing, or
/// that ends at the edge of what is looked at, is not told; it is held at its start, and the others
/// are fitted once more.
FitOutcome fit_record(const FitCase& fit);

}  // namespace panup
