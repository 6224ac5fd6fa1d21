#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dynamics/flush_denormals.h"
#include "dynamics/line_motion.h"
#include "dynamics/run_course.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

LineGrid grid_of(const ContactLine& line, double step_s) {
  const auto state = static_state(line, {.temperature_c = 10}, 2, false);
  return std::get<LineGrid>(make_grid(line, std::get<StaticState>(state), step_s, 0));
}

double energy_of(const LineMotion& motion) {
  const LineEnergy energy = motion.energy();
  return energy.kinetic_j + energy.potential_j;
}

/// One step over the whole line, under a force.
void step(LineMotion& motion, const LineGrid& grid, const PointForce& force) {
  motion.advance(grid.length_m);
  if (force.force_n != 0) {
    motion.press(force);
  }
  motion.accept();
}

void rest(LineMotion& motion, const LineGrid& grid, int steps) {
  for (int i = 0; i < steps; ++i) {
    step(motion, grid, {});
  }
}

/// A soft blow from below, too weak to slacken a dropper.
void blow(LineMotion& motion, const LineGrid& grid, double at_m) {
  const GridPoint point = grid_point(grid, 0, at_m);
  constexpr int steps = 60;
  for (int i = 0; i < steps; ++i) {
    const double force = 40 * std::sin(std::numbers::pi * i / steps);
    step(motion, grid, {point, force * force / 40});
  }
}

void expect_all_taut(const LineMotion& motion, const LineGrid& grid) {
  for (std::size_t i = 0; i < grid.springs.size(); ++i) {
    EXPECT_EQ(motion.spring(i).times_slack, 0) << grid.springs[i].at_m;
  }
}

bool all_at_rest(const LineMotion& motion, const LineGrid& grid) {
  for (std::size_t wire = 0; wire < grid.wires.size(); ++wire) {
    const auto lifts = motion.present(static_cast<int>(wire));
    if (std::ranges::any_of(lifts, [](double lift) { return lift != 0; })) {
      return false;
    }
  }
  return true;
}

TEST(LineMotion, StaysAtRestToTheLastBit) {
  ContactLine line = sample_line_with_everything(3);
  add_stitch_wires(line);
  line.mass_damping_per_s = 0.02;
  line.stiffness_damping_s = 0.0001;
  const LineGrid grid = grid_of(line, 0.001);
  LineMotion motion(grid, 0.001);
  rest(motion, grid, 1000);
  EXPECT_TRUE(all_at_rest(motion, grid));
  EXPECT_EQ(energy_of(motion), 0);
  motion.advance(grid.length_m, true);
  EXPECT_EQ(motion.dissipation(), 0);
  expect_all_taut(motion, grid);
}

TEST(LineMotion, StaysAtRestWithADropperThatHangsSlack) {
  const ContactLine line = sample_line(3);
  const auto found =
      static_state(line, {.temperature_c = 10, .ice_on_messenger_wire_kg_per_m = 6}, 2, false);
  const auto& state = std::get<StaticState>(found);
  ASSERT_TRUE(std::ranges::any_of(state.droppers,
                                  [](const StaticDropper& one) { return one.slack_m > 0; }));
  const LineGrid grid = std::get<LineGrid>(make_grid(line, state, 0.002, 0));
  LineMotion motion(grid, 0.002);
  rest(motion, grid, 1000);
  EXPECT_TRUE(all_at_rest(motion, grid));
}

/// Greatest difference of two states, over all wires.
double apart(const LineMotion& a, const LineMotion& b, const LineGrid& grid) {
  double most = 0;
  for (std::size_t wire = 0; wire < grid.wires.size(); ++wire) {
    const auto of_a = a.present(static_cast<int>(wire));
    const auto of_b = b.present(static_cast<int>(wire));
    for (std::size_t node = 0; node < of_a.size(); ++node) {
      most = std::max(most, std::abs(of_a[node] - of_b[node]));
    }
  }
  return most;
}

/// Presses a moving force, as a run does, and carries on either the whole line or a window that
/// grows by the reach of the differences in each step.
void expect_same_through_window(const ContactLine& line, double step_s) {
  const FlushDenormals flush;
  const LineGrid grid = grid_of(line, step_s);
  LineMotion whole(grid, step_s);
  LineMotion windowed(grid, step_s);
  double reach_m = 0;
  for (const GridWire& wire : grid.wires) {
    reach_m = std::max(reach_m, 2 * wire.spacing_m);
  }
  constexpr double start_m = 30;
  double at_m = start_m;
  double reached_m = at_m + reached_margin_m;
  const auto steps = static_cast<int>(4.0 / step_s);
  for (int i = 0; i < steps; ++i) {
    reached_m += reach_m;
    const PointForce force{grid_point(grid, 0, at_m),
                           risen_share(at_m - start_m, 100) * (150 + 40 * std::sin(0.01 * i))};
    whole.advance(grid.length_m);
    windowed.advance(std::min(reached_m, grid.length_m));
    for (LineMotion* motion : {&whole, &windowed}) {
      motion->press(force);
      motion->accept();
    }
    at_m += 40 * step_s;
    if (i % 20 == 0) {
      ASSERT_EQ(apart(whole, windowed, grid), 0) << i;
    }
  }
  EXPECT_EQ(energy_of(whole), energy_of(windowed));
  for (std::size_t i = 0; i < grid.springs.size(); ++i) {
    EXPECT_EQ(whole.spring(i).slack_steps, windowed.spring(i).slack_steps) << i;
    EXPECT_EQ(whole.spring(i).greatest_force_n, windowed.spring(i).greatest_force_n) << i;
  }
}

TEST(LineMotion, GivesTheSameBitsThroughAWindow) {
  expect_same_through_window(sample_line(8), 0.002);
}

TEST(LineMotion, GivesTheSameBitsThroughAWindowWithEveryPartOfALine) {
  ContactLine line = sample_line_with_everything(5);
  add_stitch_wires(line);
  line.mass_damping_per_s = 0.02;
  line.stiffness_damping_s = 0.0001;
  expect_same_through_window(line, 0.001);
}

TEST(LineMotion, LeavesTheLineAheadAtRest) {
  const ContactLine line = sample_line(8);
  const LineGrid grid = grid_of(line, 0.002);
  LineMotion motion(grid, 0.002);
  blow(motion, grid, 30);
  // A wave has come no further than c t, give or take the grid's reach of two cells a step.
  const double beyond_m = 30 + 60 * 2 * grid.wires[0].spacing_m + 2;
  for (int i = 0; beyond_m + i < grid.length_m; ++i) {
    const double at = beyond_m + i;
    EXPECT_EQ(motion.lift(grid_point(grid, 0, at)), 0) << at;
  }
}

void expect_energy_kept(const ContactLine& line, double step_s, int steps) {
  const LineGrid grid = grid_of(line, step_s);
  LineMotion motion(grid, step_s);
  blow(motion, grid, 33);
  rest(motion, grid, 1);
  const double energy = energy_of(motion);
  ASSERT_GT(energy, 0.01);
  rest(motion, grid, steps);
  expect_all_taut(motion, grid);
  EXPECT_NEAR(energy_of(motion), energy, 1e-9 * energy);
}

TEST(LineMotion, KeepsItsEnergyWithoutDampingAndWithAllDroppersTaut) {
  expect_energy_kept(sample_line(2), 0.002, 100000);
}

TEST(LineMotion, KeepsItsEnergyWithBendingMassesAndSteadyArms) {
  expect_energy_kept(sample_line_with_everything(2), 0.001, 40000);
}

TEST(LineMotion, KeepsItsEnergyWithStitchWires) {
  ContactLine line = sample_line_with_everything(2);
  add_stitch_wires(line);
  expect_energy_kept(line, 0.001, 20000);
}

TEST(LineMotion, StaysSteadyWithDroppersBesideSupportsAndClamps) {
  for (const double gap_m : {0.05, 0.1, 0.2, 0.55, 0.9}) {
    ContactLine line = sample_line(2);
    for (Support& support : line.supports) {
      support.steady_arm_stiffness_n_per_m = 2000;
    }
    if (gap_m > 0.5) {
      add_stitch_wires(line);
      line.spans[0].droppers[4].at_m = 43 + gap_m;
      line.spans[1].droppers[0].at_m = 7 + gap_m;
    } else {
      line.spans[1].droppers.insert(line.spans[1].droppers.begin(),
                                    {.at_m = gap_m, .stiffness_n_per_m = 100000});
    }
    const LineGrid grid = grid_of(line, 0.002);
    LineMotion motion(grid, 0.002);
    blow(motion, grid, 33);
    rest(motion, grid, 1);
    const double energy = energy_of(motion);
    rest(motion, grid, 20000);
    // Such springs share nodes, and are settled one after the other: not exact, but bounded.
    EXPECT_NEAR(energy_of(motion), energy, 0.02 * energy) << gap_m;
  }
}

void expect_energy_lost(double alpha, double beta, bool stitched) {
  ContactLine line = sample_line_with_everything(2);
  if (stitched) {
    add_stitch_wires(line);
  }
  line.mass_damping_per_s = alpha;
  line.stiffness_damping_s = beta;
  const LineGrid grid = grid_of(line, 0.001);
  LineMotion motion(grid, 0.001);
  EXPECT_TRUE(motion.damped());
  blow(motion, grid, 33);
  rest(motion, grid, 1);
  const double start = energy_of(motion);
  double before = start;
  double lost = 0;
  for (int i = 0; i < 4000; ++i) {
    motion.advance(grid.length_m, true);
    lost += motion.dissipation();
    motion.accept();
    const double energy = energy_of(motion);
    ASSERT_LE(energy, before + 1e-12 * start) << i;
    before = energy;
  }
  expect_all_taut(motion, grid);
  EXPECT_LT(before, 0.8 * start);
  EXPECT_NEAR(start - before, lost, 1e-9 * start);
}

TEST(LineMotion, LosesEnergyToMassDampingAndNeverGainsAny) {
  expect_energy_lost(0.2, 0, false);
  expect_energy_lost(0.2, 0, true);
}

TEST(LineMotion, LosesEnergyToStiffnessDampingAndNeverGainsAny) {
  expect_energy_lost(0, 0.0005, false);
  expect_energy_lost(0, 0.0005, true);
}

TEST(LineMotion, LosesEnergyToBothDampingsAndNeverGainsAny) {
  expect_energy_lost(0.1, 0.0002, false);
  expect_energy_lost(0.1, 0.0002, true);
}

TEST(LineMotion, GainsTheWorkOfAForce) {
  const LineGrid grid = grid_of(sample_line_with_everything(2), 0.001);
  LineMotion motion(grid, 0.001);
  const GridPoint point = grid_point(grid, 0, 37.3);
  double work = 0;
  double before = 0;
  for (int i = 0; i < 400; ++i) {
    const double force = 30 * std::sin(0.02 * i) * std::sin(0.02 * i);
    const double now = motion.lift(point);
    motion.advance(grid.length_m);
    motion.press({point, force});
    work += force * (motion.next_lift(point) - before) / 2;
    motion.accept();
    before = now;
  }
  expect_all_taut(motion, grid);
  ASSERT_GT(work, 0.01);
  EXPECT_NEAR(energy_of(motion), work, 1e-9 * work);
}

TEST(LineMotion, RespondsToAForceAsItSays) {
  const LineGrid grid = grid_of(sample_line_with_everything(2), 0.001);
  LineMotion motion(grid, 0.001);
  const GridPoint pressed = grid_point(grid, 0, 37.3);
  for (const double felt_m : {37.0, 37.3, 37.45, 60.0}) {
    const GridPoint felt = grid_point(grid, 0, felt_m);
    motion.advance(grid.length_m);
    const double before = motion.next_lift(felt);
    motion.press({pressed, 25});
    EXPECT_NEAR(motion.next_lift(felt) - before, 25 * motion.response(pressed, felt), 1e-15)
        << felt_m;
    motion.accept();
  }
}

TEST(LineMotion, SettlesUnderASteadyForceWhereTheStaticsSay) {
  for (const bool everything : {false, true}) {
    ContactLine line = everything ? sample_line_with_everything(3) : sample_line(3);
    line.mass_damping_per_s = 2.5;
    const double step_s = everything ? 0.001 : 0.002;
    const LineGrid grid = grid_of(line, step_s);
    const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 11, true));
    LineMotion motion(grid, step_s);
    const GridPoint point = grid_point(grid, 0, 70);
    const auto steps = static_cast<int>(12 / step_s);
    for (int i = 0; i < steps; ++i) {
      step(motion, grid, {point, std::min(50.0, 0.02 * i)});
    }
    const auto at = std::ranges::find_if(
        state.points, [](const StaticPoint& one) { return std::abs(one.at_m - 70) < 1e-6; });
    ASSERT_NE(at, state.points.end());
    const double lift =
        motion.lift(point) + 50 * missing_compliance(missing_lifts(grid.wires[0]), point.share);
    expect_all_taut(motion, grid);
    EXPECT_NEAR(1000 * lift / 50, at->elasticity_mm_per_n, 0.002 * at->elasticity_mm_per_n)
        << everything;
  }
}

/// A span with one dropper in its middle, strongly damped, to press until the dropper hangs slack.
ContactLine one_dropper_line() {
  ContactLine line = sample_line(1);
  line.spans[0].droppers = {{.at_m = 25, .stiffness_n_per_m = 100000}};
  line.mass_damping_per_s = 4;
  return line;
}

TEST(LineMotion, LetsASlackDropperPushNothing) {
  const LineGrid grid = grid_of(one_dropper_line(), 0.002);
  const double hung_n = grid.springs[0].static_force_n;
  // Rid of the dropper's force, and no more, the messenger wire rises in midspan by F L/4T.
  const double rise_m = hung_n * 50 / (4 * 16000);
  for (const double most_n : {2500.0, 5000.0}) {
    LineMotion motion(grid, 0.002);
    const GridPoint pressed = grid_point(grid, 0, 20);
    for (int i = 0; i < 6000; ++i) {
      step(motion, grid, {pressed, std::min(most_n, 2.0 * i)});
    }
    EXPECT_NEAR(motion.lift(grid_point(grid, 1, 25)), rise_m, 0.002 * rise_m) << most_n;
    EXPECT_GT(motion.lift(grid_point(grid, 0, 25)), 2 * rise_m) << most_n;
    EXPECT_EQ(motion.spring(0).times_slack, 1);
    EXPECT_GT(motion.spring(0).slack_steps, 1000);
  }
}

TEST(LineMotion, TakesUpASlackDropperAgain) {
  const LineGrid grid = grid_of(one_dropper_line(), 0.002);
  LineMotion motion(grid, 0.002);
  const GridPoint pressed = grid_point(grid, 0, 20);
  for (int i = 0; i < 3000; ++i) {
    step(motion, grid, {pressed, 2500.0 * i / 3000});
  }
  ASSERT_EQ(motion.spring(0).times_slack, 1);
  const double high_j = energy_of(motion);
  rest(motion, grid, 10000);
  EXPECT_LT(energy_of(motion), 1e-9 * high_j);
  EXPECT_NEAR(motion.lift(grid_point(grid, 1, 25)), 0, 1e-4);
  EXPECT_GT(motion.spring(0).greatest_force_n, grid.springs[0].static_force_n)
      << "it is jerked when it comes taut";
}

TEST(LineMotion, KeepsSlackEnergyInTheBalance) {
  // Without damping the fall back onto the dropper is exact too, but for the step in which it
  // slackens or comes taut.
  ContactLine line = one_dropper_line();
  line.mass_damping_per_s = 0;
  const LineGrid grid = grid_of(line, 0.002);
  LineMotion motion(grid, 0.002);
  const GridPoint pressed = grid_point(grid, 0, 20);
  double work = 0;
  double before = 0;
  for (int i = 0; i < 3000; ++i) {
    const double force = i < 1500 ? 1.5 * i : 0;
    const double now = motion.lift(pressed);
    motion.advance(grid.length_m);
    motion.press({pressed, force});
    motion.settle_beside(pressed);
    work += force * (motion.next_lift(pressed) - before) / 2;
    motion.accept();
    before = now;
  }
  ASSERT_GE(motion.spring(0).times_slack, 1);
  EXPECT_NEAR(energy_of(motion), work, 0.01 * work);
}

}  // namespace

}  // namespace panup
