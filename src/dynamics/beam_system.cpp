#include "dynamics/beam_system.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace panup {

namespace {

/// Of the first element beside a place that is given, where the wire bends.
constexpr double finest_element_m = 0.05;

std::vector<double> refined(const std::vector<double>& places) {
  std::vector<double> nodes;
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const double from = places[i];
    const double to = places[i + 1];
    nodes.push_back(from);
    std::vector<double> mirrored;
    double offset = finest_element_m;
    // Not up to the middle itself: two nodes that meet there leave an element of no length.
    while (2 * offset + finest_element_m / 2 <= to - from) {
      nodes.push_back(from + offset);
      mirrored.push_back(to - offset);
      offset *= 2;
    }
    nodes.insert(nodes.end(), mirrored.rbegin(), mirrored.rend());
  }
  nodes.push_back(places.back());
  return nodes;
}

}  // namespace

int BeamSystem::new_unknown() {
  load_.push_back(0);
  return static_cast<int>(load_.size()) - 1;
}

void BeamSystem::add(int row, int column, double value) {
  stiffness_.emplace_back(row, column, value);
}

BeamNodes BeamSystem::add_wire(const Wire& wire, double load_n_per_m,
                               const std::vector<double>& places, int first_lift, int last_lift) {
  BeamNodes nodes;
  nodes.tension_n = wire.tension_n;
  nodes.bending_stiffness_nm2 = wire.bending_stiffness_nm2;
  nodes.load_n_per_m = load_n_per_m;
  const bool bends = wire.bending_stiffness_nm2 > 0;
  nodes.at_m = bends ? refined(places) : places;
  for (std::size_t i = 0; i < nodes.at_m.size(); ++i) {
    const int shared = i == 0 ? first_lift : i + 1 == nodes.at_m.size() ? last_lift : -1;
    nodes.lift.push_back(shared >= 0 ? shared : new_unknown());
    nodes.slope.push_back(bends ? new_unknown() : -1);
  }
  const double t = wire.tension_n;
  const double b = wire.bending_stiffness_nm2;
  for (std::size_t i = 0; i + 1 < nodes.at_m.size(); ++i) {
    const double l = nodes.at_m[i + 1] - nodes.at_m[i];
    const double weight = load_n_per_m * l;
    add_force(nodes.lift[i], -weight / 2);
    add_force(nodes.lift[i + 1], -weight / 2);
    if (!bends) {
      for (const std::size_t row : {i, i + 1}) {
        for (const std::size_t column : {i, i + 1}) {
          add(nodes.lift[row], nodes.lift[column], (row == column ? t : -t) / l);
        }
      }
      continue;
    }
    const std::array<int, 4> unknowns = {nodes.lift[i], nodes.slope[i], nodes.lift[i + 1],
                                         nodes.slope[i + 1]};
    const double b3 = b / (l * l * l);
    const double t30 = t / (30 * l);
    const double corner = 6 * l * b3 + 3 * l * t30;
    const double own = 4 * l * l * b3 + 4 * l * l * t30;
    const double other = 2 * l * l * b3 - l * l * t30;
    const double lift = 12 * b3 + 36 * t30;
    const std::array<std::array<double, 4>, 4> element = {{{lift, corner, -lift, corner},
                                                           {corner, own, -corner, other},
                                                           {-lift, -corner, lift, -corner},
                                                           {corner, other, -corner, own}}};
    for (std::size_t row = 0; row < 4; ++row) {
      for (std::size_t column = 0; column < 4; ++column) {
        add(unknowns[row], unknowns[column], element[row][column]);
      }
    }
    add_force(nodes.slope[i], -weight * l / 12);
    add_force(nodes.slope[i + 1], weight * l / 12);
  }
  return nodes;
}

void BeamSystem::add_spring(int lower, int upper, double stiffness, double length_m) {
  add(lower, lower, stiffness);
  add_force(lower, -stiffness * length_m);
  if (upper >= 0) {
    add(upper, upper, stiffness);
    add(lower, upper, -stiffness);
    add(upper, lower, -stiffness);
    add_force(upper, stiffness * length_m);
  }
}

void BeamSystem::solve(const std::vector<HeldLift>& held) {
  const auto size = static_cast<Eigen::Index>(load_.size());
  whole_.resize(size, size);
  whole_.setFromTriplets(stiffness_.begin(), stiffness_.end());
  free_index_.assign(load_.size(), 0);
  for (const HeldLift& one : held) {
    free_index_[static_cast<std::size_t>(one.lift)] = -1;
  }
  int count = 0;
  for (int& index : free_index_) {
    index = index < 0 ? -1 : count++;
  }
  std::vector<Eigen::Triplet<double>> free;
  for (Eigen::Index column = 0; column < size; ++column) {
    const int to = free_index_[static_cast<std::size_t>(column)];
    if (to < 0) {
      continue;
    }
    for (Eigen::SparseMatrix<double>::InnerIterator it(whole_, column); it; ++it) {
      const int from = free_index_[static_cast<std::size_t>(it.row())];
      if (from >= 0) {
        free.emplace_back(from, to, it.value());
      }
    }
  }
  Eigen::SparseMatrix<double> matrix(count, count);
  matrix.setFromTriplets(free.begin(), free.end());
  factors_.compute(matrix);
  hold_at(held);
}

void BeamSystem::hold_at(const std::vector<HeldLift>& held) {
  const auto size = static_cast<Eigen::Index>(load_.size());
  values_ = Eigen::VectorXd::Zero(size);
  for (const HeldLift& one : held) {
    values_(one.lift) = one.height_m;
  }
  const Eigen::VectorXd of_held = whole_ * values_;
  Eigen::VectorXd right(factors_.rows());
  for (Eigen::Index unknown = 0; unknown < size; ++unknown) {
    const int index = free_index_[static_cast<std::size_t>(unknown)];
    if (index >= 0) {
      right(index) = load_[static_cast<std::size_t>(unknown)] - of_held(unknown);
    }
  }
  const Eigen::VectorXd solved = factors_.solve(right);
  for (Eigen::Index unknown = 0; unknown < size; ++unknown) {
    const int index = free_index_[static_cast<std::size_t>(unknown)];
    if (index >= 0) {
      values_(unknown) = solved(index);
    }
  }
}

double BeamSystem::reaction(int lift) const {
  return whole_.col(lift).dot(values_) - load_[static_cast<std::size_t>(lift)];
}

double BeamSystem::compliance(int lift) const { return changes_under(lift)(lift); }

Eigen::VectorXd BeamSystem::changes_under(int lift) const {
  Eigen::VectorXd changes = Eigen::VectorXd::Zero(values_.size());
  const int pressed = free_index_[static_cast<std::size_t>(lift)];
  if (pressed < 0) {
    return changes;
  }
  Eigen::VectorXd unit = Eigen::VectorXd::Zero(factors_.rows());
  unit(pressed) = 1;
  const Eigen::VectorXd solved = factors_.solve(unit);
  for (Eigen::Index unknown = 0; unknown < changes.size(); ++unknown) {
    const int index = free_index_[static_cast<std::size_t>(unknown)];
    if (index >= 0) {
      changes(unknown) = solved(index);
    }
  }
  return changes;
}

std::size_t node_at(const BeamNodes& wire, double at_m) {
  const auto after = std::ranges::lower_bound(wire.at_m, at_m);
  if (after == wire.at_m.end() ||
      (after != wire.at_m.begin() && at_m - *(after - 1) < *after - at_m)) {
    return static_cast<std::size_t>(after - wire.at_m.begin()) - 1;
  }
  return static_cast<std::size_t>(after - wire.at_m.begin());
}

std::vector<ShapeNode> shape_of(const BeamSystem& system, const BeamNodes& wire) {
  std::vector<ShapeNode> shape;
  const std::size_t last = wire.at_m.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    ShapeNode node;
    node.at_m = wire.at_m[i];
    node.height_m = system.value(wire.lift[i]);
    if (wire.slope[i] >= 0) {
      node.slope_before = node.slope_after = system.value(wire.slope[i]);
    } else {
      const auto chord = [&](std::size_t from) {
        return (system.value(wire.lift[from + 1]) - system.value(wire.lift[from])) /
               (wire.at_m[from + 1] - wire.at_m[from]);
      };
      const auto bow = [&](std::size_t from) {
        return wire.load_n_per_m * (wire.at_m[from + 1] - wire.at_m[from]) / (2 * wire.tension_n);
      };
      node.slope_before = i > 0 ? chord(i - 1) + bow(i - 1) : 0;
      node.slope_after = i < last ? chord(i) - bow(i) : 0;
    }
    shape.push_back(node);
  }
  return shape;
}

}  // namespace panup
