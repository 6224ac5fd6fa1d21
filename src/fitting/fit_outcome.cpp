#include "fitting/fit_outcome.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>

namespace panup {

namespace {

constexpr double two_sided = 0.975;
constexpr double step_factor = 2;
/// Rows stand half a period of 20 Hz apart, so this is a quarter of a second.
constexpr Eigen::Index lags = 10;
/// Of the greatest eigenvalue; below it a direction has no influence.
constexpr double no_influence = 1e-9;

double student(double freedom) {
  return boost::math::quantile(boost::math::students_t(std::max(1.0, freedom)), two_sided);
}

/// (JᵀJ)⁻¹; what has no influence gets a variance without end.
Eigen::MatrixXd inverse_of(const Eigen::MatrixXd& normal) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(normal);
  const double greatest = std::max(eigen.eigenvalues().maxCoeff(), 1e-300);
  const Eigen::VectorXd held = eigen.eigenvalues().cwiseMax(no_influence * greatest);
  return eigen.eigenvectors() * held.cwiseInverse().asDiagonal() * eigen.eigenvectors().transpose();
}

/// By how much the variance of a sum of residuals is greater than if each swung on its own:
/// 1 + 2 Σ ρₖ over `lags`, ρₖ being their correlation with those k rows on in the same block.
double inflation(const Eigen::VectorXd& residuals, const std::vector<int>& blocks) {
  double sum = 0;
  for (Eigen::Index lag = 1; lag <= lags; ++lag) {
    for (Eigen::Index i = 0; i + lag < residuals.size(); ++i) {
      if (blocks[static_cast<std::size_t>(i)] == blocks[static_cast<std::size_t>(i + lag)]) {
        sum += residuals(i) * residuals(i + lag);
      }
    }
  }
  const double squares = residuals.squaredNorm();
  return squares > 0 ? std::max(1.0, 1 + 2 * sum / squares) : 1;
}

}  // namespace

FitSureness sureness_of(const Eigen::MatrixXd& jacobian, const Eigen::VectorXd& residuals,
                        const std::vector<int>& blocks, const Eigen::VectorXd& step_change) {
  const Eigen::Index quantities = jacobian.cols();
  const auto rows = static_cast<double>(jacobian.rows());
  const Eigen::MatrixXd inverse = inverse_of(jacobian.transpose() * jacobian);
  const double freedom = rows - static_cast<double>(quantities);
  const double variance = residuals.squaredNorm() / std::max(1.0, freedom);

  const double together = inflation(residuals, blocks);
  const Eigen::VectorXd shift = inverse * (jacobian.transpose() * step_change);

  FitSureness sure;
  sure.correlation = Eigen::MatrixXd::Identity(quantities, quantities);
  for (Eigen::Index i = 0; i < quantities; ++i) {
    const double by_chance =
        student(freedom / together) * std::sqrt(variance * together * inverse(i, i));
    sure.half_width.push_back(by_chance + step_factor * std::abs(shift(i)));
    for (Eigen::Index k = 0; k < quantities; ++k) {
      sure.correlation(i, k) = inverse(i, k) / std::sqrt(inverse(i, i) * inverse(k, k));
    }
  }
  return sure;
}

}  // namespace panup
