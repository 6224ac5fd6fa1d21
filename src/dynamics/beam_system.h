#pragma once

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <vector>

#include "dynamics/contact_line.h"
#include "dynamics/statics.h"

namespace panup {

/// A wire divided by nodes, in a system of wires. Each node has a lift and, if the wire bends, a
/// slope; −1 where it has none.
struct BeamNodes {
  double tension_n = 0;
  double bending_stiffness_nm2 = 0;
  double load_n_per_m = 0;  ///< downward
  std::vector<double> at_m;
  std::vector<int> lift;
  std::vector<int> slope;
};

/// Which lift is held at which height.
struct HeldLift {
  int lift = 0;
  double height_m = 0;
};

/// Tensioned beams, E I w⁗ − T w″ = p, joined by springs and held at places, at rest.
///
/// With bending stiffness: cubic Hermite elements, which converge with the fourth power of their
/// length. Without: straight string elements, whose nodes are exact under uniform load; the shape
/// between them is the parabola.
class BeamSystem {
 public:
  /// Nodes at `places`, which rise. With bending stiffness further ones come between, close by the
  /// given ones and sparse away from them. The ends may share lifts that are there already.
  BeamNodes add_wire(const Wire& wire, double load_n_per_m, const std::vector<double>& places,
                     int first_lift = -1, int last_lift = -1);
  /// Force of the spring = stiffness × (lift of upper − lift of lower − length), pulling both
  /// together; ground for an upper of −1.
  void add_spring(int lower, int upper, double stiffness, double length_m);
  void add_force(int lift, double upward_n) { load_[static_cast<std::size_t>(lift)] += upward_n; }

  /// Lifts and slopes, with `held` at their heights. Keeps the factors for `compliance`.
  void solve(const std::vector<HeldLift>& held);
  /// The same lifts as in `solve`, held at other heights; everything else as it was.
  void hold_at(const std::vector<HeldLift>& held);
  double value(int unknown) const { return values_(unknown); }
  /// Upward force that holds a lift.
  double reaction(int lift) const;
  /// Lift of `lift` itself under one newton upward on it, held lifts staying.
  double compliance(int lift) const;
  /// What all unknowns change by under one newton upward on `lift`, held lifts staying.
  Eigen::VectorXd changes_under(int lift) const;

 private:
  int new_unknown();
  void add(int row, int column, double value);

  std::vector<Eigen::Triplet<double>> stiffness_;
  std::vector<double> load_;
  std::vector<int> free_index_;  ///< by unknown; −1 where held
  Eigen::SparseMatrix<double> whole_;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factors_;
  Eigen::VectorXd values_;
};

/// Index of the node at a place that was given to `add_wire`.
std::size_t node_at(const BeamNodes& wire, double at_m);

/// The shape of a wire of a solved system.
std::vector<ShapeNode> shape_of(const BeamSystem& system, const BeamNodes& wire);

}  // namespace panup
