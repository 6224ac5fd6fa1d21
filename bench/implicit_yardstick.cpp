#include "implicit_yardstick.h"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>

#include "dynamics/contact_shape.h"
#include "dynamics/frame_force.h"
#include "dynamics/run_course.h"

namespace panup::bench {

namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Vector = Eigen::VectorXd;

/// Lifts of all wires and of the pantograph's masses in one vector.
struct Layout {
  std::vector<int> first;  ///< of each wire
  int pantograph = 0;
  int size = 0;
};

Layout lay_out(const LineGrid& grid, const PantographModel& model) {
  Layout layout;
  for (const GridWire& wire : grid.wires) {
    layout.first.push_back(layout.size);
    layout.size += wire.cells + 1;
  }
  layout.pantograph = layout.size;
  layout.size += static_cast<int>(model.masses.size());
  return layout;
}

using Triplets = std::vector<Eigen::Triplet<double>>;

/// factor · (row)(row)ᵀ for a row of few entries.
void add_square(Triplets& matrix, const std::vector<std::pair<int, double>>& row, double factor) {
  for (const auto& [i, a] : row) {
    for (const auto& [j, b] : row) {
      matrix.emplace_back(i, j, factor * a * b);
    }
  }
}

std::vector<std::pair<int, double>> elongation_row(const Layout& layout, const GridSpring& spring) {
  std::vector<std::pair<int, double>> row;
  const auto add = [&](const GridPoint& point, double sign) {
    for (int k = 0; k < 4; ++k) {
      if (point.share[static_cast<std::size_t>(k)] != 0) {
        row.emplace_back(layout.first[static_cast<std::size_t>(point.wire)] + point.node + k,
                         sign * point.share[static_cast<std::size_t>(k)]);
      }
    }
  };
  add(spring.lower, -1);
  if (!spring.grounded) {
    add(spring.upper, 1);
  }
  return row;
}

struct System {
  Matrix mass;
  Matrix damping;
  Matrix stiffness;
};

System assemble(const LineGrid& grid, const Layout& layout, const PantographModel& model) {
  Triplets mass;
  Triplets damping;
  Triplets stiffness;
  for (std::size_t w = 0; w < grid.wires.size(); ++w) {
    const GridWire& wire = grid.wires[w];
    const int first = layout.first[w];
    const double h = wire.spacing_m;
    for (int j = 0; j <= wire.cells; ++j) {
      mass.emplace_back(first + j, first + j, wire.node_mass_kg);
      damping.emplace_back(first + j, first + j, grid.mass_damping_per_s * wire.node_mass_kg);
    }
    for (int j = 0; j < wire.cells; ++j) {
      add_square(stiffness, {{first + j, -1}, {first + j + 1, 1}}, wire.tension_n / h);
      add_square(damping, {{first + j, -1}, {first + j + 1, 1}},
                 grid.stiffness_damping_s * wire.tension_n / h);
    }
    const double bend = (wire.bending_stiffness_nm2 + wire.added_stiffness_nm2) / (h * h * h);
    for (int j = 1; j < wire.cells && bend > 0; ++j) {
      const std::vector<std::pair<int, double>> row{
          {first + j - 1, 1}, {first + j, -2}, {first + j + 1, 1}};
      add_square(stiffness, row, bend);
      add_square(damping, row, grid.stiffness_damping_s * bend);
    }
  }
  for (const GridMass& point : grid.masses) {
    const int at = layout.first[static_cast<std::size_t>(point.wire)] + point.node;
    mass.emplace_back(at, at, point.mass_kg);
    damping.emplace_back(at, at, grid.mass_damping_per_s * point.mass_kg);
  }
  for (const GridSpring& spring : grid.springs) {
    add_square(stiffness, elongation_row(layout, spring), 1 / spring.compliance_m_per_n);
  }
  for (std::size_t i = 0; i < model.masses.size(); ++i) {
    const int at = layout.pantograph + static_cast<int>(i);
    mass.emplace_back(at, at, model.masses[i].mass_kg);
    std::vector<std::pair<int, double>> row{{at, 1}};
    if (i + 1 < model.masses.size()) {
      row.emplace_back(at + 1, -1);
    }
    add_square(stiffness, row, model.masses[i].stiffness_n_per_m);
    add_square(damping, row, model.masses[i].damping_ns_per_m);
  }
  System system;
  for (auto [matrix, from] : {std::pair{&system.mass, &mass},
                              {&system.damping, &damping},
                              {&system.stiffness, &stiffness}}) {
    matrix->resize(layout.size, layout.size);
    matrix->setFromTriplets(from->begin(), from->end());
  }
  return system;
}

}  // namespace

Yardstick run_yardstick(const LineGrid& grid, const StaticState& state,
                        const SimulationRequest& request, double step_s) {
  const PantographModel& model = request.pantographs.front().model;
  const Layout layout = lay_out(grid, model);
  const System system = assemble(grid, layout, model);
  const double q = step_s * step_s / 4;
  Matrix left = system.mass + system.damping * (step_s / 2) + system.stiffness * q;
  // Ends of the two long wires are held.
  for (std::size_t w = 0; w < 2; ++w) {
    for (const int end : {0, grid.wires[w].cells}) {
      left.coeffRef(layout.first[w] + end, layout.first[w] + end) += 1e12;
    }
  }
  const Eigen::SimplicialLDLT<Matrix> factors(left);
  const Matrix of_present = 2 * system.mass - 2 * q * system.stiffness;
  const Matrix of_before = system.mass - system.damping * (step_s / 2) + system.stiffness * q;

  std::vector<std::vector<std::pair<int, double>>> rows;
  for (const GridSpring& spring : grid.springs) {
    rows.push_back(elongation_row(layout, spring));
  }
  const auto elongation = [&](std::size_t i, const Vector& lifts) {
    double sum = 0;
    for (const auto& [at, share] : rows[i]) {
      sum += share * lifts(at);
    }
    return sum;
  };
  const double speed_ms = request.speed_kmh / 3.6;
  const RunCourse course = std::get<RunCourse>(plan_course(request));
  const auto steps =
      static_cast<long>(std::ceil((course.end_m - course.start_m) / (speed_ms * step_s)));
  GridWire moving = grid.wires[0];
  moving.tension_n -= moving.node_mass_kg / moving.spacing_m * speed_ms * speed_ms;
  const auto missing = missing_lifts(moving);
  const FrameForce frame = frame_forces(request, state, course).front();

  // What a newton does within the step, for steps towards the answer of the right size.
  const auto response = [&](const std::vector<std::pair<int, double>>& row) {
    Vector unit = Vector::Zero(layout.size);
    for (const auto& [at, share] : row) {
      unit(at) = step_s * step_s * share;
    }
    const Vector moved = factors.solve(unit);
    double sum = 0;
    for (const auto& [at, share] : row) {
      sum += share * moved(at);
    }
    return sum;
  };
  const double contact_response =
      response({{layout.pantograph, 1.0}}) + response({{grid.wires[0].cells / 2, 1.0}});
  double dropper_response = 0;
  for (std::size_t i = 0; i < grid.springs.size() && dropper_response == 0; ++i) {
    if (grid.springs[i].kind == SpringKind::dropper) {
      dropper_response = response(rows[i]);
    }
  }

  ShapeWalk shape(state.contact_shape);
  Vector present = Vector::Zero(layout.size);
  present.tail(static_cast<Eigen::Index>(model.masses.size()))
      .setConstant(shape.height(course.start_m));
  Vector before = present;
  std::vector<double> slack_n(grid.springs.size(), 0);  // force that a slack dropper lacks
  double gap_now = 0;
  double gap_before = 0;
  double force = 0;
  GridPoint now = grid_point(grid, 0, course.start_m);
  Yardstick result;
  long solves = 0;
  for (long step = 0; step < steps; ++step) {
    const double run_m = speed_ms * step_s * static_cast<double>(step);
    const double next_m = course.start_m + run_m + speed_ms * step_s;
    const GridPoint next = grid_point(grid, 0, next_m);
    const double height = shape.height(next_m);
    const double compliance =
        1 / model.contact_stiffness_n_per_m + missing_compliance(missing, now.share);
    Vector base = of_present * present - of_before * before;
    base(layout.size - 1) += step_s * step_s * frame.at(risen_share(run_m, course.ramp_m));
    Vector following;
    double gap = 0;
    for (int round = 0; round < 20; ++round) {
      Vector right = base;
      for (int k = 0; k < 4; ++k) {
        right(now.node + k) += step_s * step_s * force * now.share[static_cast<std::size_t>(k)];
      }
      right(layout.pantograph) -= step_s * step_s * force;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        if (slack_n[i] > 0) {
          for (const auto& [at, share] : rows[i]) {
            right(at) -= step_s * step_s * slack_n[i] * share;
          }
        }
      }
      following = factors.solve(right);
      ++solves;
      double wire = height;
      for (int k = 0; k < 4; ++k) {
        wire += next.share[static_cast<std::size_t>(k)] * following(next.node + k);
      }
      gap = following(layout.pantograph) - wire;
      const double wanted = std::max(0.0, (gap + 2 * gap_now + gap_before) / (4 * compliance));
      double amiss = std::abs(wanted - force);
      force += (wanted - force) / (1 + contact_response / (4 * compliance));
      force = std::max(0.0, force);
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const GridSpring& spring = grid.springs[i];
        if (spring.kind != SpringKind::dropper) {
          continue;
        }
        const double mean =
            (elongation(i, following) + 2 * elongation(i, present) + elongation(i, before)) / 4;
        const double lacking = std::max(
            0.0, -spring.static_force_n - (mean - spring.slack_m) / spring.compliance_m_per_n);
        amiss = std::max(amiss, std::abs(lacking - slack_n[i]));
        slack_n[i] +=
            (lacking - slack_n[i]) / (1 - dropper_response / (4 * spring.compliance_m_per_n));
        slack_n[i] = std::max(0.0, slack_n[i]);
      }
      if (amiss < 0.1) {
        break;
      }
    }
    result.forces_n.push_back(force);
    gap_before = gap_now;
    gap_now = gap;
    now = next;
    before.swap(present);
    present.swap(following);
  }
  result.simulated_s = static_cast<double>(steps) * step_s;
  result.solves_per_step = static_cast<double>(solves) / static_cast<double>(steps);
  return result;
}

}  // namespace panup::bench
