#pragma once

#include <Eigen/Core>
#include <vector>

#include "fitting/fit_rows.h"

namespace panup {

/// How sure the logarithms of a fit are.
struct FitSureness {
  std::vector<double> half_width;  ///< of the interval of 95 %; infinite where nothing is known
  Eigen::MatrixXd correlation;     ///< of the quantities
};

/// From the derivatives of the residuals (rows × quantities), the residuals, the block of each row,
/// and what the step still does to each simulated force. See `fit_record`.
FitSureness sureness_of(const Eigen::MatrixXd& jacobian, const Eigen::VectorXd& residuals,
                        const std::vector<int>& blocks, const Eigen::VectorXd& step_change);

}  // namespace panup
