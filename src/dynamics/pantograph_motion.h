#pragma once

#include <array>

#include "dynamics/pantograph_model.h"

namespace panup {

inline constexpr int most_pantograph_masses = 4;

/// The lumped masses of a pantograph in motion, head first: M ÿ + C ẏ + K y = f, stepped with the
/// mean (y[n−1] + 2 y[n] + y[n+1])/4 in the springs and the centred difference in the dampers:
/// of second order, stable at any step, without damping of its own.
class PantographMotion {
 public:
  /// At rest, all masses at `height_m`.
  PantographMotion(const PantographModel& model, double step_s, double height_m);

  /// One step on, under `frame_n` upward on the lowest mass, and as yet no contact force.
  void advance(double frame_n);
  /// Adds the contact force that acts now, downward on the head.
  void press(double contact_n);
  void accept();

  double head() const { return present_[0]; }
  double next_head() const { return next_[0]; }
  /// By which one newton of contact force now presses the head down one step on.
  double head_response() const { return response_[0]; }

  /// Work of the force on the frame in this step; between `press` and `accept`, as is
  /// `dissipation`.
  double frame_work(double frame_n) const;
  double dissipation() const;
  /// Way of the head over this step and the one before, halved.
  double head_way() const { return (next_[0] - before_[0]) / 2; }
  /// Of the half step before the present state.
  double energy() const;

 private:
  using Row = std::array<double, most_pantograph_masses>;

  std::size_t count_ = 0;
  double step_s_ = 0;
  Row mass_{};
  Row stiffness_{};
  Row damping_{};
  std::array<Row, most_pantograph_masses> of_present_{};
  std::array<Row, most_pantograph_masses> of_before_{};
  Row of_frame_{};
  Row response_{};
  Row present_{};
  Row before_{};
  Row next_{};
};

}  // namespace panup
