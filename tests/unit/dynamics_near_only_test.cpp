// Runs of which only what is near the pantographs moves.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "dynamics/line_motion.h"
#include "dynamics/run_course.h"
#include "dynamics/step_choice.h"
#include "dynamics_results.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

constexpr double books_step_s = 0.002;

/// 30 spans of 50 m with every part that a line can have.
ContactLine long_line() {
  ContactLine line = sample_line_with_everything(30);
  add_stitch_wires(line);
  line.mass_damping_per_s = 0.02;
  line.stiffness_damping_s = 0.0001;
  return line;
}

LineGrid grid_of_line(const ContactLine& line) {
  const auto state = static_state(line, {.temperature_c = line.reference_temperature_c}, 2, false);
  return std::get<LineGrid>(make_grid(line, std::get<StaticState>(state), books_step_s, 0));
}

double stored(const LineMotion& motion) {
  const LineEnergy energy = motion.energy();
  return energy.kinetic_j + energy.potential_j;
}

/// Undamped, of wires without extra masses: what softening takes of those is not counted.
ContactLine of_bare_wires() {
  ContactLine line = long_line();
  line.mass_damping_per_s = 0;
  line.stiffness_damping_s = 0;
  for (Support& support : line.supports) {
    support.steady_arm_mass_kg = 0;
    support.messenger_mass_kg = 0;
  }
  for (Span& span : line.spans) {
    for (Dropper& dropper : span.droppers) {
      dropper.mass_on_contact_wire_kg = dropper.mass_on_messenger_kg = 0;
    }
  }
  return line;
}

/// A soft blow from below.
void blow_at(double at_m, LineMotion& motion, const LineGrid& grid) {
  const GridPoint point = grid_point(grid, 0, at_m);
  for (int i = 0; i < 60; ++i) {
    motion.advance(grid.length_m);
    motion.press({point, 40 * std::pow(std::sin(std::numbers::pi * i / 60), 2)});
    motion.accept();
  }
}

void blow_in_the_middle(LineMotion& motion, const LineGrid& grid) { blow_at(750, motion, grid); }

/// Steps of a part of the line, with its ends made soft or left hard.
void move_on(LineMotion& motion, const LineGrid& grid, int steps, bool soft) {
  for (int i = 0; i < steps; ++i) {
    motion.advance(grid.length_m);
    motion.accept();
    if (soft && i % steps_between_softenings == 0) {
      motion.soften();
    }
  }
}

/// Elongation of each spring, by the lifts at its ends.
template <class Lift>
std::vector<double> elongations(const LineGrid& grid, const Lift& lift) {
  std::vector<double> all;
  for (const GridSpring& spring : grid.springs) {
    all.push_back((spring.grounded ? 0 : lift(spring.upper)) - lift(spring.lower));
  }
  return all;
}

TEST(NearOnly, SpringsOfSoftenedWiresPullByTheLiftsThatWereLeftThem) {
  const LineGrid grid = grid_of_line(long_line());
  LineMotion motion(grid, books_step_s);
  blow_in_the_middle(motion, grid);
  motion.keep_to(650, 850);
  const auto lift = [&](const GridPoint& point) { return motion.lift(point); };
  const auto next_lift = [&](const GridPoint& point) { return motion.next_lift(point); };
  std::vector<double> before = elongations(grid, lift);
  std::vector<double> now = before;
  std::vector<double> greatest(grid.springs.size());
  std::vector<double> known(grid.springs.size());
  for (std::size_t i = 0; i < grid.springs.size(); ++i) {
    known[i] = motion.spring(i).greatest_force_n;
  }
  for (int step = 0; step < 1500; ++step) {
    motion.advance(grid.length_m);
    const std::vector<double> next = elongations(grid, next_lift);
    // The force of a step counts when the next one begins.
    for (std::size_t i = 0; step > 0 && step < 1499 && i < grid.springs.size(); ++i) {
      const GridSpring& spring = grid.springs[i];
      const double mean = (next[i] + 2 * now[i] + before[i]) / 4;
      const double force =
          std::max(-spring.static_force_n, (mean - spring.slack_m) / spring.compliance_m_per_n);
      greatest[i] = std::max(greatest[i], force + spring.static_force_n);
    }
    motion.accept();
    before = now;
    now = elongations(grid, lift);
    if (step % steps_between_softenings == 0) {
      motion.soften();
      // What the present loses of an elongation, the state before wins.
      const std::vector<double> left = elongations(grid, lift);
      for (std::size_t i = 0; i < grid.springs.size(); ++i) {
        before[i] += now[i] - left[i];
      }
      now = left;
    }
  }
  int held = 0;
  for (std::size_t i = 0; i < grid.springs.size(); ++i) {
    const GridSpring& spring = grid.springs[i];
    const double so_far = motion.spring(i).greatest_force_n;
    if (spring.at_m > 660 && spring.at_m < 840 && std::isfinite(spring.static_force_n) &&
        so_far > known[i]) {
      EXPECT_NEAR(so_far, greatest[i], 1e-6 * so_far) << spring.at_m;
      ++held;
    }
  }
  EXPECT_GT(held, 5);
}

TEST(MovingPart, WhatLiesOutsideStaysAsItLies) {
  const ContactLine line = long_line();
  const LineGrid grid = grid_of_line(line);
  LineMotion motion(grid, books_step_s);
  motion.keep_to(-1, 950);
  blow_in_the_middle(motion, grid);
  move_on(motion, grid, 500, true);
  motion.keep_to(700, 950);
  const auto lifts = [&motion] {
    const auto now = motion.present(0);
    return std::vector<double>(now.begin(), now.end());
  };
  const std::vector<double> at_first = lifts();
  move_on(motion, grid, 500, true);
  const std::vector<double> later = lifts();
  const double h = grid.wires[0].spacing_m;
  int moved = 0;
  for (std::size_t node = 0; node < later.size(); ++node) {
    const double at_m = static_cast<double>(node) * h;
    if (at_m < 700 - 8 * h) {
      EXPECT_EQ(later[node], at_first[node]) << at_m;
    } else if (at_m > 950 + 8 * h) {
      EXPECT_EQ(later[node], 0) << at_m;
    } else {
      moved += later[node] != at_first[node] ? 1 : 0;
    }
  }
  EXPECT_GT(moved, 200 / h);
  EXPECT_NE(at_first[static_cast<std::size_t>(600 / h)], 0) << "something was left behind";
}

TEST(MovingPart, WavesAreTakenOutOfItAndNotThrownBack) {
  const ContactLine line = long_line();
  const LineGrid grid = grid_of_line(line);
  // By then waves have run to either end of the part, 200 m off, and back.
  constexpr int there_and_back = 2500;
  const auto left_of_it = [&](bool soft) {
    LineMotion motion(grid, books_step_s);
    motion.keep_to(-1, 950);
    blow_in_the_middle(motion, grid);
    motion.keep_to(550, 950);
    const double at_first = stored(motion);
    move_on(motion, grid, there_and_back, soft);
    return stored(motion) / at_first;
  };
  EXPECT_LT(left_of_it(true), 0.2);
  EXPECT_GT(left_of_it(false), 0.6);
}

// The share falls from the cut inwards on both sides: what is just within 60 m keeps nearly all.
TEST(MovingPart, IsHardestToTheSpeedAtItsCuts) {
  const ContactLine line = of_bare_wires();
  const LineGrid grid = grid_of_line(line);
  const auto taken_at = [&](double at_m) {
    LineMotion motion(grid, books_step_s);
    motion.keep_to(600, 900);
    motion.advance(grid.length_m);
    motion.press({grid_point(grid, 0, at_m), 500});
    motion.accept();
    const double before_j = stored(motion);
    return motion.soften() / before_j;
  };
  for (const auto& [at_cut_m, inwards_m] : {std::pair(608.0, 650.0), std::pair(892.0, 850.0)}) {
    EXPECT_GT(taken_at(at_cut_m), 10 * taken_at(inwards_m)) << at_cut_m;
    EXPECT_GT(taken_at(inwards_m), 0) << inwards_m;
  }
  EXPECT_EQ(taken_at(750), 0);
}

TEST(MovingPart, TheEndOfTheLineThrowsNothingBackEither) {
  const ContactLine line = long_line();
  const LineGrid grid = grid_of_line(line);
  LineMotion motion(grid, books_step_s);
  blow_at(1300, motion, grid);
  motion.keep_to(1100, grid.length_m + 1);
  const double at_first = stored(motion);
  move_on(motion, grid, 2500, true);
  EXPECT_LT(stored(motion), 0.2 * at_first);
}

TEST(MovingPart, WhatSofteningTakesIsMissingFromTheWires) {
  const ContactLine line = of_bare_wires();
  const LineGrid grid = grid_of_line(line);
  LineMotion motion(grid, books_step_s);
  motion.keep_to(600, 900);
  blow_in_the_middle(motion, grid);
  const double at_first = stored(motion);
  double taken_j = 0;
  for (int i = 0; i < 3000; ++i) {
    motion.advance(grid.length_m);
    motion.accept();
    const double more_j = i % steps_between_softenings == 0 ? motion.soften() : 0;
    EXPECT_GE(more_j, 0);
    taken_j += more_j;
  }
  EXPECT_GT(taken_j, 0.5 * at_first);
  EXPECT_NEAR(taken_j + stored(motion), at_first, 0.002 * at_first);
}

// A step just within its limit of stability holds hardly any energy in the shortest waves.
TEST(MovingPart, OfNoWaveHoweverShortTheEnergyGrows) {
  const ContactLine line = of_bare_wires();
  const LineGrid grid = grid_of_line(line);
  LineMotion motion(grid, books_step_s);
  motion.keep_to(600, 900);
  // Blows of a single step, from side to side of the part.
  for (const double at_m : {610.0, 650.0, 750.0, 850.0, 890.0}) {
    motion.advance(grid.length_m);
    motion.press({grid_point(grid, 0, at_m), 500});
    motion.accept();
  }
  double largest_j = 0;
  for (int i = 0; i < 2000; ++i) {
    motion.advance(grid.length_m);
    motion.accept();
    if (i % steps_between_softenings == 0) {
      const double before_j = stored(motion);
      const double taken_j = motion.soften();
      EXPECT_GE(taken_j, 0) << i;
      EXPECT_NEAR(stored(motion), before_j - taken_j, 0.002 * before_j) << i;
      largest_j = std::max(largest_j, taken_j);
    }
  }
  EXPECT_GT(largest_j, 0.01);
}

TEST(MovingPart, TheWholeLineIsOnePartToTheLastBit) {
  const ContactLine line = long_line();
  const LineGrid grid = grid_of_line(line);
  LineMotion whole(grid, books_step_s);
  LineMotion part(grid, books_step_s);
  part.keep_to(-1, grid.length_m + 1);
  for (LineMotion* const motion : {&whole, &part}) {
    blow_in_the_middle(*motion, grid);
    move_on(*motion, grid, 300, false);
  }
  EXPECT_TRUE(std::ranges::equal(whole.present(0), part.present(0)));
  EXPECT_EQ(stored(whole), stored(part));
}

SimulationRequest two_in_the_books_step(const ContactLine& line, double speed_kmh) {
  SimulationRequest request = sample_request(line, speed_kmh);
  add_pantograph(request, 40);
  request.settings.step_s = books_step_s;
  request.settings.guarded = false;
  return request;
}

/// The greatest difference of standard deviations from those of the whole line, as a share.
double off_by(const ContactLine& line, double speed_kmh) {
  SimulationRequest request = two_in_the_books_step(line, speed_kmh);
  request.settings.from_m = 400;
  request.settings.to_m = 1100;
  const SimulationResult whole = result_of(request);
  request.settings.near_only = true;
  const SimulationResult near = result_of(request);
  double greatest = 0;
  for (std::size_t i = 0; i < whole.pantographs.size(); ++i) {
    const PantographRun& one = whole.pantographs[i];
    EXPECT_NEAR(near.pantographs.at(i).mean_n, one.mean_n, 0.5) << speed_kmh;
    greatest = std::max(greatest, std::abs(near.pantographs.at(i).std_n / one.std_n - 1));
  }
  return greatest;
}

TEST(NearOnly, DeviationsAreAFewPerCentOffAndMoreWhereTheLineIsHardlyDamped) {
  ContactLine line = long_line();
  for (const double speed_kmh : {80.0, 110.0, 140.0}) {
    line.mass_damping_per_s = 0.15;
    EXPECT_LT(off_by(line, speed_kmh), 0.08) << speed_kmh;
    line.mass_damping_per_s = 0.02;
    EXPECT_LT(off_by(line, speed_kmh), 1.0 / 6) << speed_kmh;
  }
  EXPECT_GT(off_by(line, 110), 0.08);
}

// A run gone wrong is told by its energy, so what is taken out of the wires must be counted.
TEST(NearOnly, WhatIsTakenOutIsCountedInTheBalance) {
  const ContactLine line = long_line();
  SimulationRequest request = two_in_the_books_step(line, 120);
  request.settings.near_only = true;
  const SimulationResult near = result_of(request);
  EXPECT_LT(std::abs(near.energy.missing_j), 0.005 * near.energy.dissipated_j);
  EXPECT_FALSE(is_doubtful(near.energy))
      << near.energy.missing_j << " J of " << near.energy.dissipated_j << " J";
  EXPECT_GT(near.energy.dissipated_j, 0.5 * near.energy.work_of_traction_j);
}

TEST(NearOnly, TheLinesEndNeedsTwoSpansOnly) {
  const ContactLine line = sample_line(30);
  SimulationRequest request = two_in_the_books_step(line, 120);
  const auto end_of = [&](bool near_only) {
    request.settings.near_only = near_only;
    return std::get<RunCourse>(plan_course(request)).to_m;
  };
  // 1,500 m less the train, and 4 or 2 spans: the last support before that.
  EXPECT_EQ(end_of(false), 1250);
  EXPECT_EQ(end_of(true), 1350);
}

}  // namespace
}  // namespace panup
