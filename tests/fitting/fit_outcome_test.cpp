#include "fitting/fit_outcome.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace panup {
namespace {

/// A straight line through n points with noise of σ: the textbook's standard error of its slope is
/// σ / √Σx².
TEST(Sureness, OfAStraightLineIsThatOfTheTextbook) {
  const int rows = 4000;
  std::mt19937 chance(3);
  std::normal_distribution<double> noise(0, 2);
  Eigen::MatrixXd jacobian(rows, 1);
  Eigen::VectorXd residuals(rows);
  std::vector<int> blocks;
  double squares = 0;
  for (int i = 0; i < rows; ++i) {
    const double x = std::sin(0.1 * i);
    jacobian(i, 0) = x;
    residuals(i) = noise(chance);
    squares += x * x;
    blocks.push_back(i / 20);
  }
  // As a fit would leave them.
  residuals -= jacobian * (jacobian.transpose() * residuals / squares);
  const FitSureness sure = sureness_of(jacobian, residuals, blocks, Eigen::VectorXd::Zero(rows));
  EXPECT_NEAR(sure.half_width[0], 1.96 * 2 / std::sqrt(squares), 0.1 * sure.half_width[0]);
}

TEST(Sureness, IsLessWhereRowsSwingTogether) {
  const int together = 8;
  const int rows = 400 * together;
  std::mt19937 chance(5);
  std::normal_distribution<double> noise(0, 2);
  Eigen::MatrixXd jacobian = Eigen::MatrixXd::Ones(rows, 1);
  Eigen::VectorXd residuals(rows);
  std::vector<int> blocks;
  for (int i = 0; i < rows; ++i) {
    residuals(i) = i % together == 0 ? noise(chance) : residuals(i - 1);
    blocks.push_back(i / 80);
  }
  residuals.array() -= residuals.mean();
  const FitSureness sure = sureness_of(jacobian, residuals, blocks, Eigen::VectorXd::Zero(rows));
  // A mean of 400 values, not of 3200.
  EXPECT_NEAR(sure.half_width[0], 1.97 * 2 / std::sqrt(400.0), 0.15 * sure.half_width[0]);
}

TEST(Sureness, TakesInWhatTheStepChanges) {
  const Eigen::MatrixXd jacobian = Eigen::MatrixXd::Constant(50, 1, 10);
  const Eigen::VectorXd change = Eigen::VectorXd::Constant(50, 0.5);
  const FitSureness sure =
      sureness_of(jacobian, Eigen::VectorXd::Zero(50), std::vector<int>(50, 0), change);
  EXPECT_NEAR(sure.half_width[0], 2 * 0.05, 1e-9);
}

TEST(Sureness, HasNoEndWhereAQuantityMovesNothing) {
  Eigen::MatrixXd jacobian = Eigen::MatrixXd::Zero(50, 2);
  jacobian.col(0).setRandom();
  const FitSureness sure = sureness_of(jacobian, Eigen::VectorXd::Random(50),
                                       std::vector<int>(50, 0), Eigen::VectorXd::Zero(50));
  EXPECT_LT(sure.half_width[0], 10);
  EXPECT_GT(sure.half_width[1], 1000);
}

TEST(Sureness, TellsWhichQuantitiesActAlike) {
  Eigen::MatrixXd jacobian(50, 2);
  jacobian.col(0).setRandom();
  jacobian.col(1) = 0.5 * jacobian.col(0);
  jacobian(3, 1) += 0.01;
  const FitSureness sure = sureness_of(jacobian, Eigen::VectorXd::Random(50),
                                       std::vector<int>(50, 0), Eigen::VectorXd::Zero(50));
  EXPECT_LT(sure.correlation(0, 1), -0.99);
}

/// The mean of n values of their own: s t / √n, s² their sum of squares by n − 1, t of Student's
/// table.
TEST(Sureness, OfAMeanIsThatOfStudentsTable) {
  const Eigen::MatrixXd ones = Eigen::MatrixXd::Ones(5, 1);
  Eigen::VectorXd residuals(5);
  residuals << 2, 1, 0, -1, -2;
  const Eigen::VectorXd still = Eigen::VectorXd::Zero(5);
  const FitSureness sure = sureness_of(ones, residuals, {0, 1, 2, 3, 4}, still);
  EXPECT_NEAR(sure.half_width[0], 2.7764 * std::sqrt(10.0 / 4) / std::sqrt(5.0), 1e-4);
}

TEST(Sureness, CountsRowsThatSwingInPairsAsHalfAsMany) {
  // Pairs of equals, and one by itself: 1 + 2 Σ ρ is 2, and of eight degrees of freedom four are
  // left.
  Eigen::VectorXd residuals(9);
  residuals << 1, 1, -1, -1, 2, 2, -2, -2, 0;
  const FitSureness sure = sureness_of(Eigen::MatrixXd::Ones(9, 1), residuals,
                                       {0, 0, 1, 1, 2, 2, 3, 3, 4}, Eigen::VectorXd::Zero(9));
  EXPECT_NEAR(sure.half_width[0], 2.7764 * std::sqrt(20.0 / 8 * 2 / 9), 1e-4);
}

TEST(Sureness, IsNoGreaterWhereRowsSwingAgainstEachOther) {
  Eigen::VectorXd residuals(4);
  residuals << 1, -1, 1, -1;
  const FitSureness sure =
      sureness_of(Eigen::MatrixXd::Ones(4, 1), residuals, {0, 0, 0, 0}, Eigen::VectorXd::Zero(4));
  EXPECT_NEAR(sure.half_width[0], 3.1824 * std::sqrt(4.0 / 3 / 4), 1e-4);
}

TEST(Sureness, TakesInWhatTheStepChangesEitherWay) {
  const FitSureness sure =
      sureness_of(Eigen::MatrixXd::Constant(50, 1, 10), Eigen::VectorXd::Zero(50),
                  std::vector<int>(50, 0), Eigen::VectorXd::Constant(50, -0.5));
  EXPECT_NEAR(sure.half_width[0], 2 * 0.05, 1e-9);
}

TEST(Sureness, CorrelationIsThatOfTheQuantitiesWhateverTheirUnits) {
  // (1 0 0) and (3 4 0) lie as their cosine says, 3/5; what one gains the other loses.
  for (const double unit : {1.0, 1000.0}) {
    Eigen::MatrixXd jacobian(3, 2);
    jacobian << 1, 3 * unit, 0, 4 * unit, 0, 0;
    const FitSureness sure =
        sureness_of(jacobian, Eigen::VectorXd::Ones(3), {0, 1, 2}, Eigen::VectorXd::Zero(3));
    EXPECT_NEAR(sure.correlation(0, 1), -0.6, 1e-6);
    EXPECT_NEAR(sure.correlation(1, 0), -0.6, 1e-6);
  }
}

}  // namespace
}  // namespace panup
