#include "dynamics/pantograph_motion.h"

#include <Eigen/Dense>

namespace panup {

namespace {

/// Of a chain that stands on the ground, head first: each element joins a mass to the one below.
Eigen::MatrixXd chain(const std::array<double, most_pantograph_masses>& elements,
                      std::size_t count) {
  const auto size = static_cast<Eigen::Index>(count);
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(size, size);
  for (Eigen::Index i = 0; i < size; ++i) {
    const double value = elements[static_cast<std::size_t>(i)];
    matrix(i, i) += value;
    if (i + 1 < size) {
      matrix(i + 1, i + 1) += value;
      matrix(i, i + 1) -= value;
      matrix(i + 1, i) -= value;
    }
  }
  return matrix;
}

}  // namespace

PantographMotion::PantographMotion(const PantographModel& model, double step_s, double height_m)
    : count_(model.masses.size()), step_s_(step_s) {
  for (std::size_t i = 0; i < count_; ++i) {
    mass_[i] = model.masses[i].mass_kg;
    stiffness_[i] = model.masses[i].stiffness_n_per_m;
    damping_[i] = model.masses[i].damping_ns_per_m;
    present_[i] = before_[i] = next_[i] = height_m;
  }
  const Eigen::MatrixXd k = chain(stiffness_, count_) * (step_s * step_s / 4);
  const Eigen::MatrixXd c = chain(damping_, count_) * (step_s / 2);
  Eigen::MatrixXd m = Eigen::MatrixXd::Zero(k.rows(), k.cols());
  for (Eigen::Index i = 0; i < m.rows(); ++i) {
    m(i, i) = mass_[static_cast<std::size_t>(i)];
  }
  const Eigen::MatrixXd solved = (m + c + k).inverse();
  const Eigen::MatrixXd of_present = solved * (2 * m - 2 * k);
  const Eigen::MatrixXd of_before = solved * (m - c + k);
  for (std::size_t i = 0; i < count_; ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    for (std::size_t j = 0; j < count_; ++j) {
      of_present_[i][j] = of_present(row, static_cast<Eigen::Index>(j));
      of_before_[i][j] = of_before(row, static_cast<Eigen::Index>(j));
    }
    of_frame_[i] = step_s * step_s * solved(row, solved.cols() - 1);
    response_[i] = step_s * step_s * solved(row, 0);
  }
}

void PantographMotion::advance(double frame_n) {
  for (std::size_t i = 0; i < count_; ++i) {
    double sum = of_frame_[i] * frame_n;
    for (std::size_t j = 0; j < count_; ++j) {
      sum += of_present_[i][j] * present_[j] - of_before_[i][j] * before_[j];
    }
    next_[i] = sum;
  }
}

void PantographMotion::press(double contact_n) {
  for (std::size_t i = 0; i < count_; ++i) {
    next_[i] -= response_[i] * contact_n;
  }
}

void PantographMotion::accept() {
  before_ = present_;
  present_ = next_;
}

double PantographMotion::frame_work(double frame_n) const {
  return frame_n * (next_[count_ - 1] - before_[count_ - 1]) / 2;
}

double PantographMotion::dissipation() const {
  double power = 0;
  for (std::size_t i = 0; i < count_; ++i) {
    const double below = i + 1 < count_ ? next_[i + 1] - before_[i + 1] : 0;
    const double speed = (next_[i] - before_[i] - below) / (2 * step_s_);
    power += damping_[i] * speed * speed;
  }
  return power * step_s_;
}

double PantographMotion::energy() const {
  double energy = 0;
  for (std::size_t i = 0; i < count_; ++i) {
    const double speed = (present_[i] - before_[i]) / step_s_;
    const double below = i + 1 < count_ ? (present_[i + 1] + before_[i + 1]) / 2 : 0;
    const double stretch = (present_[i] + before_[i]) / 2 - below;
    energy += (mass_[i] * speed * speed + stiffness_[i] * stretch * stretch) / 2;
  }
  return energy;
}

}  // namespace panup
