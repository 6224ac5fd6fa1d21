#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "dynamics/line_grid.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

StaticState at_rest(const ContactLine& line) {
  return std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
}

LineGrid grid_of(const ContactLine& line, double step_s, double contact_spacing_m = 0) {
  auto made = make_grid(line, at_rest(line), step_s, contact_spacing_m);
  if (const auto* reason = std::get_if<Sentence>(&made)) {
    ADD_FAILURE() << reason->said();
    return {};
  }
  return std::get<LineGrid>(std::move(made));
}

double chainage(const LineGrid& grid, const GridPoint& point) {
  const GridWire& wire = grid.wires[static_cast<std::size_t>(point.wire)];
  double at = 0;
  for (int i = 0; i < 4; ++i) {
    at += point.share[static_cast<std::size_t>(i)] *
          (wire.first_m + (point.node + i) * wire.spacing_m);
  }
  return at;
}

double sum(const std::array<double, 4>& share) {
  return std::accumulate(share.begin(), share.end(), 0.0);
}

GridWire wire_of_grid(double bending_stiffness_nm2, double added_stiffness_nm2 = 0) {
  GridWire wire;
  wire.spacing_m = 0.25;
  wire.cells = 160;
  wire.node_mass_kg = 0.3;
  wire.tension_n = 20000;
  wire.bending_stiffness_nm2 = bending_stiffness_nm2;
  wire.added_stiffness_nm2 = added_stiffness_nm2;
  return wire;
}

LineGrid grid_with(const GridWire& wire) {
  LineGrid grid;
  grid.length_m = wire.cells * wire.spacing_m;
  grid.wires.push_back(wire);
  return grid;
}

TEST(StableSpacing, AgreesWithTheLimitOfTheGrid) {
  for (const double bending : {0.0, 150.0}) {
    for (const double damping : {0.0, 0.0001}) {
      for (const double step : {0.0005, 0.001, 0.002}) {
        ContactLine line = sample_line(3);
        line.contact_wire.bending_stiffness_nm2 = bending;
        line.messenger_wire.bending_stiffness_nm2 = bending;
        line.stiffness_damping_s = damping;
        EXPECT_TRUE(is_stable(grid_of(line, step), step)) << bending << ' ' << damping;
        // Fitted into the length, a spacing grows by less than one part in so many cells.
        const double least = stable_spacing(line.contact_wire, damping, step);
        EXPECT_FALSE(is_stable(grid_of(line, step, 0.98 * least), step)) << bending;
        EXPECT_TRUE(is_stable(grid_of(line, step, least), step)) << bending;
      }
    }
  }
}

TEST(StableSpacing, IsLittleMoreThanTheWayOfAWaveInOneStep) {
  const Wire wire = sample_line(1).contact_wire;
  const double way = wave_speed(wire) * 0.002;
  EXPECT_GT(stable_spacing(wire, 0, 0.002), way / std::sqrt(greatest_courant_squared) * 0.999);
  EXPECT_LT(stable_spacing(wire, 0, 0.002), 1.1 * way);
}

TEST(StableSpacing, GrowsWithStepBendingAndStiffnessDamping) {
  Wire wire = sample_line(1).contact_wire;
  const double plain = stable_spacing(wire, 0, 0.001);
  EXPECT_GT(stable_spacing(wire, 0, 0.002), plain);
  EXPECT_GT(stable_spacing(wire, 0.0002, 0.001), plain);
  wire.bending_stiffness_nm2 = 150;
  EXPECT_GT(stable_spacing(wire, 0, 0.001), plain);
}

TEST(GridPoint, SharesOutTheWholeAtTheRightPlace) {
  const LineGrid grid = grid_of(sample_line(2), 0.002);
  for (const int wire : {0, 1}) {
    for (int i = 0; i <= 2700; ++i) {
      const double at = 0.037 * i;
      const GridPoint point = grid_point(grid, wire, at);
      EXPECT_NEAR(sum(point.share), 1, 1e-12) << at;
      EXPECT_NEAR(chainage(grid, point), at, 1e-9) << at;
    }
    EXPECT_NEAR(chainage(grid, grid_point(grid, wire, 100)), 100, 1e-9);
  }
}

TEST(GridPoint, IsOneNodeOnANode) {
  const LineGrid grid = grid_with(wire_of_grid(0));
  for (const int node : {0, 1, 7, 80, 159, 160}) {
    const GridPoint point = grid_point(grid, 0, 0.25 * node);
    for (int i = 0; i < 4; ++i) {
      EXPECT_NEAR(point.share[static_cast<std::size_t>(i)], point.node + i == node ? 1 : 0, 1e-12)
          << node;
    }
  }
}

TEST(GridPoint, PutsNothingOnNodesThatAreNotThere) {
  const GridWire wire = wire_of_grid(0);
  const LineGrid grid = grid_with(wire);
  for (int step = 0; step <= 1333; ++step) {
    const double at = 0.03 * step;
    const GridPoint point = grid_point(grid, 0, at);
    for (int i = 0; i < 4; ++i) {
      const int node = point.node + i;
      if (node < 0 || node > wire.cells) {
        EXPECT_EQ(point.share[static_cast<std::size_t>(i)], 0) << at;
      }
    }
  }
}

TEST(GridPoint, InterpolatesWithoutStepsFromCellToCell) {
  const GridWire wire = wire_of_grid(0);
  const LineGrid grid = grid_with(wire);
  const auto lift = [&](double at) {
    const GridPoint point = grid_point(grid, 0, at);
    double value = 0;
    for (int i = 0; i < 4; ++i) {
      value += point.share[static_cast<std::size_t>(i)] * std::sin(0.9 * (point.node + i));
    }
    return value;
  };
  for (int node = 1; node < wire.cells; ++node) {
    EXPECT_NEAR(lift(0.25 * node - 1e-9), lift(0.25 * node + 1e-9), 1e-7) << node;
  }
}

TEST(MissingCompliance, IsNoneOnANodeAndSomeBetweenOnAString) {
  const GridWire wire = wire_of_grid(0);
  const LineGrid grid = grid_with(wire);
  const auto lifts = missing_lifts(wire);
  EXPECT_EQ(missing_compliance(lifts, {0, 1, 0, 0}), 0);
  for (const double t : {0.1, 0.3, 0.5, 0.9}) {
    EXPECT_GT(missing_compliance(lifts, grid_point(grid, 0, 10 + 0.25 * t).share), 0) << t;
    EXPECT_NEAR(missing_compliance(lifts, grid_point(grid, 0, 10 + 0.25 * t).share),
                missing_compliance(lifts, grid_point(grid, 0, 10 + 0.25 * (1 - t)).share), 1e-18)
        << t;
  }
  // Between two nodes a force lifts the straight line that joins them: h t (1 − t)/T is missing.
  EXPECT_NEAR(missing_compliance(lifts, {0.7, 0.3, 0, 0}), 0.25 * 0.7 * 0.3 / 20000, 1e-18);
}

/// Lift of the grid under one newton at a point, from the equations of its nodes; what lies beyond
/// either end mirrors what lies before it, as of an end held without moment.
double lift_of_grid(const GridWire& wire, const GridPoint& point) {
  const Eigen::Index inner = wire.cells - 1;
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(inner, inner);
  const double h = wire.spacing_m;
  const double bend = (wire.bending_stiffness_nm2 + wire.added_stiffness_nm2) / (h * h * h);
  const auto add = [&](Eigen::Index row, Eigen::Index column, double value) {
    if (column == -2) {
      matrix(row, 0) -= value;
    } else if (column == inner + 1) {
      matrix(row, inner - 1) -= value;
    } else if (column >= 0 && column < inner) {
      matrix(row, column) += value;
    }
  };
  Eigen::VectorXd force = Eigen::VectorXd::Zero(inner);
  for (Eigen::Index row = 0; row < inner; ++row) {
    add(row, row, 2 * wire.tension_n / h + 6 * bend);
    for (const Eigen::Index side : {-1, 1}) {
      add(row, row + side, -wire.tension_n / h - 4 * bend);
      add(row, row + 2 * side, bend);
    }
  }
  for (int i = 0; i < 4; ++i) {
    force(point.node + i - 1) += point.share[static_cast<std::size_t>(i)];
  }
  return force.dot(matrix.ldlt().solve(force));
}

TEST(MissingCompliance, MakesUpTheLiftOfTheWire) {
  for (const double bending : {0.0, 40.0, 200.0}) {
    for (const double added : {0.0, 5.0}) {
      const GridWire wire = wire_of_grid(bending, added);
      const LineGrid grid = grid_with(wire);
      const double length = grid.length_m;
      const double narrow = std::sqrt(bending / wire.tension_n);  // λ, far below the length
      for (const double at : {14.0, 14.06, 14.125, 20.2}) {
        const GridPoint point = grid_point(grid, 0, at);
        // A tensioned beam on two supports: a (L − a)/(T L) − λ/2T, the hyperbolic terms being 1.
        const double exact = (at * (length - at) / length - narrow / 2) / wire.tension_n;
        EXPECT_NEAR(
            lift_of_grid(wire, point) + missing_compliance(missing_lifts(wire), point.share), exact,
            1e-9 * exact)
            << bending << ' ' << added << ' ' << at;
      }
    }
  }
}

TEST(MissingCompliance, GrowsWithStiffnessThatOnlyTheDifferencesHave) {
  const GridWire plain = wire_of_grid(100);
  const GridWire stiffened = wire_of_grid(100, 20);
  EXPECT_GT(missing_compliance(missing_lifts(stiffened), {0, 1, 0, 0}),
            missing_compliance(missing_lifts(plain), {0, 1, 0, 0}));
}

TEST(LineGrid, KeepsTheMassOfTheWires) {
  const LineGrid grid = grid_of(sample_line(3), 0.002);
  EXPECT_NEAR(grid.wires[0].node_mass_kg * grid.wires[0].cells, 1.35 * 150, 1e-9);
  EXPECT_NEAR(grid.wires[1].node_mass_kg * grid.wires[1].cells, 1.07 * 150, 1e-9);
  EXPECT_NEAR(grid.wires[0].spacing_m * grid.wires[0].cells, 150, 1e-9);
}

TEST(LineGrid, GivesEverySpringItsStaticForceByRisingChainage) {
  ContactLine line = sample_line_with_everything(3);
  add_stitch_wires(line);
  const StaticState state = at_rest(line);
  const LineGrid grid = std::get<LineGrid>(make_grid(line, state, 0.001, 0));
  EXPECT_TRUE(std::ranges::is_sorted(grid.springs, {}, &GridSpring::at_m));
  std::vector<double> forces;
  int supports = 0;
  int arms = 0;
  int clamps = 0;
  for (const GridSpring& spring : grid.springs) {
    EXPECT_TRUE(std::isfinite(spring.compliance_m_per_n));
    supports += spring.kind == SpringKind::support ? 1 : 0;
    arms += spring.kind == SpringKind::steady_arm ? 1 : 0;
    clamps += spring.kind == SpringKind::clamp ? 1 : 0;
    if (spring.kind == SpringKind::dropper) {
      forces.push_back(spring.static_force_n);
    } else {
      EXPECT_TRUE(std::isinf(spring.static_force_n)) << "they push as well as pull";
    }
  }
  EXPECT_EQ(supports, 2);
  EXPECT_EQ(arms, 2);
  EXPECT_EQ(clamps, 4);
  ASSERT_EQ(forces.size(), state.droppers.size());
  for (std::size_t i = 0; i < forces.size(); ++i) {
    EXPECT_EQ(forces[i], state.droppers[i].force_n) << i;
  }
}

TEST(LineGrid, MakesAStitchWireAWireOfItsOwn) {
  ContactLine line = sample_line(3);
  add_stitch_wires(line);
  const LineGrid grid = grid_of(line, 0.002);
  ASSERT_EQ(grid.wires.size(), 4U);
  EXPECT_FALSE(grid.wires[0].free_ends);
  EXPECT_FALSE(grid.wires[1].free_ends);
  EXPECT_TRUE(grid.wires[2].free_ends);
  EXPECT_NEAR(grid.wires[2].first_m, 43, 1e-12);
  EXPECT_NEAR(grid.wires[2].cells * grid.wires[2].spacing_m, 14, 1e-12);
  int hung = 0;
  for (const GridSpring& spring : grid.springs) {
    hung += spring.kind == SpringKind::dropper && spring.upper.wire > 1 ? 1 : 0;
  }
  EXPECT_EQ(hung, 4);
}

TEST(LineGrid, RefusesDroppersTooNearForItsCells) {
  ContactLine line = sample_line(2);
  line.spans[0].droppers = {{.at_m = 20, .stiffness_n_per_m = 100000},
                            {.at_m = 20.5, .stiffness_n_per_m = 100000}};
  const auto made = make_grid(line, at_rest(line), 0.002, 0);
  const auto* reason = std::get_if<Sentence>(&made);
  ASSERT_NE(reason, nullptr);
  EXPECT_NE(reason->said().find("20.00 m and 20.50 m"), std::string::npos) << reason->said();
  EXPECT_TRUE(std::holds_alternative<LineGrid>(make_grid(line, at_rest(line), 0.0005, 0)))
      << "a shorter step will do";
}

TEST(LineGrid, RefusesADropperTooNearToTheEndOfAStitchWire) {
  for (const double gap_m : {-0.3, 0.1, 0.3}) {
    ContactLine line = sample_line(2);
    add_stitch_wires(line);
    line.spans[0].droppers[4].at_m = 43 + gap_m;
    const auto made = make_grid(line, at_rest(line), 0.002, 0);
    const auto* reason = std::get_if<Sentence>(&made);
    ASSERT_NE(reason, nullptr) << gap_m;
    EXPECT_NE(reason->said().find("from the end of a stitch wire at 43.00 m"), std::string::npos)
        << reason->said();
    EXPECT_TRUE(std::holds_alternative<LineGrid>(make_grid(line, at_rest(line), 0.0003, 0)))
        << "a shorter step will do";
  }
}

TEST(LineGrid, PutsMassesWhereTheyAre) {
  const ContactLine line = sample_line_with_everything(3);
  const LineGrid grid = grid_of(line, 0.001);
  std::array<double, 2> mass{};
  std::array<double, 2> moment{};
  double before_m = 0;
  std::vector<std::pair<int, int>> nodes;
  for (const GridMass& one : grid.masses) {
    const GridWire& wire = grid.wires[static_cast<std::size_t>(one.wire)];
    const double at = wire.first_m + one.node * wire.spacing_m;
    mass[static_cast<std::size_t>(one.wire)] += one.mass_kg;
    moment[static_cast<std::size_t>(one.wire)] += one.mass_kg * at;
    EXPECT_GE(at, before_m);
    EXPECT_GT(one.mass_kg, 0);
    before_m = at;
    nodes.emplace_back(one.wire, one.node);
  }
  // Fifteen droppers and two supports, and the line is symmetric about 75 m.
  EXPECT_NEAR(mass[0], 15 * 0.3 + 2 * 0.8, 1e-9);
  EXPECT_NEAR(mass[1], 15 * 0.25 + 2 * 2, 1e-9);
  EXPECT_NEAR(moment[0] / mass[0], 75, 1e-9);
  EXPECT_NEAR(moment[1] / mass[1], 75, 1e-9);
  std::ranges::sort(nodes);
  EXPECT_EQ(std::ranges::adjacent_find(nodes), nodes.end()) << "a node once";
}

TEST(LineGrid, LeavesOutMassesOnNodesThatAreHeld) {
  ContactLine line = sample_line(2);
  line.spans[0].droppers.insert(
      line.spans[0].droppers.begin(),
      {.at_m = 0.1, .stiffness_n_per_m = 100000, .mass_on_contact_wire_kg = 1});
  const LineGrid grid = grid_of(line, 0.002);
  ASSERT_EQ(grid.masses.size(), 1U);
  EXPECT_EQ(grid.masses[0].node, 1);
  EXPECT_NEAR(grid.masses[0].mass_kg, 0.1 / grid.wires[0].spacing_m, 1e-12);
}

TEST(LineGrid, KnowsItsSupports) {
  const LineGrid grid = grid_of(sample_line(3), 0.002);
  ASSERT_EQ(grid.supports.size(), 4U);
  for (int i = 0; i < 4; ++i) {
    EXPECT_EQ(grid.supports[static_cast<std::size_t>(i)].wire, 0);
    EXPECT_NEAR(chainage(grid, grid.supports[static_cast<std::size_t>(i)]), 50 * i, 1e-9);
  }
}

}  // namespace

}  // namespace panup
