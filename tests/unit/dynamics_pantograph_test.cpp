#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "dynamics/pantograph_motion.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

PantographModel four_masses(double damping) {
  PantographModel model;
  model.masses = {{2, 9000, damping}, {5, 6000, damping}, {8, 3000, damping}, {12, 400, damping}};
  return model;
}

/// Steps it under steady forces.
void run(PantographMotion& motion, double frame_n, double contact_n, int steps) {
  for (int i = 0; i < steps; ++i) {
    motion.advance(frame_n);
    motion.press(contact_n);
    motion.accept();
  }
}

TEST(PantographModel, TakesTheStaticForceOfTheSystem) {
  PantographModel model = sample_pantograph();
  model.static_forces = {{EnergySupply::dc_3kv, 110}};
  EXPECT_EQ(static_force_of(model, EnergySupply::dc_3kv), 110);
  EXPECT_EQ(static_force_of(model, EnergySupply::ac_25kv), 80);
  EXPECT_EQ(static_force_of(model, std::nullopt), 80);
  model.static_force_n.reset();
  EXPECT_EQ(static_force_of(model, EnergySupply::dc_3kv), 110);
  EXPECT_EQ(static_force_of(model, EnergySupply::ac_25kv), std::nullopt);
  EXPECT_EQ(static_force_of(model, std::nullopt), std::nullopt);
}

TEST(PantographModel, IsPressedWithTheSquareOfTheSpeedByItsKnuckle) {
  PantographModel model = sample_pantograph();
  model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.0009;
  model.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0006;
  EXPECT_NEAR(aerodynamic_force(model, Knuckle::leading, 200), 36, 1e-12);
  EXPECT_NEAR(aerodynamic_force(model, Knuckle::trailing, 200), 24, 1e-12);
  EXPECT_EQ(aerodynamic_force(model, Knuckle::leading, 0), 0);
}

TEST(PantographMotion, StaysAtRestWithoutForces) {
  PantographMotion motion(four_masses(20), 0.002, 0);
  run(motion, 0, 0, 1000);
  EXPECT_EQ(motion.head(), 0);
  EXPECT_EQ(motion.energy(), 0);
}

TEST(PantographMotion, ComesToRestAtItsStaticDeflection) {
  PantographMotion motion(four_masses(400), 0.002, 0);
  run(motion, 90, 70, 50000);
  // Below the head the springs carry 70 N down; the lowest carries what is left of 90 N up.
  const double head = 20.0 / 400 - 70 * (1.0 / 3000 + 1.0 / 6000 + 1.0 / 9000);
  EXPECT_NEAR(motion.head(), head, 1e-9);
  EXPECT_NEAR(motion.dissipation(), 0, 1e-15);
}

TEST(PantographMotion, SwingsInItsNaturalPeriod) {
  PantographModel model;
  model.masses = {{10, 4000, 0}};
  constexpr double step_s = 0.001;
  PantographMotion motion(model, step_s, 0);
  run(motion, 100, 0, 30);  // set going, and let go
  double last_s = 0;
  int crossings = 0;
  double first_s = 0;
  double before = motion.head();
  for (int i = 1; i <= 20000; ++i) {
    run(motion, 0, 0, 1);
    const double now = motion.head();
    if (before < 0 && now >= 0) {
      last_s = step_s * (i - now / (now - before));
      first_s = crossings == 0 ? last_s : first_s;
      ++crossings;
    }
    before = now;
  }
  ASSERT_GT(crossings, 50);
  const double period = (last_s - first_s) / (crossings - 1);
  const double natural = 2 * std::numbers::pi * std::sqrt(10.0 / 4000);
  EXPECT_NEAR(period, natural, 1e-4 * natural);
  // And to the scheme's own: tan(ω′ Δt/2) = ω Δt/2.
  const double scheme = std::numbers::pi * step_s / std::atan(std::sqrt(4000.0 / 10) * step_s / 2);
  EXPECT_NEAR(period, scheme, 1e-6 * scheme);
}

TEST(PantographMotion, KeepsItsEnergyWithoutDampers) {
  PantographMotion motion(four_masses(0), 0.002, 0);
  run(motion, 100, 30, 25);
  run(motion, 0, 0, 1);
  const double energy = motion.energy();
  ASSERT_GT(energy, 0.1);
  run(motion, 0, 0, 100000);
  EXPECT_NEAR(motion.energy(), energy, 1e-9 * energy);
}

TEST(PantographMotion, LosesToItsDampersWhatItSaysItLoses) {
  PantographMotion motion(four_masses(25), 0.002, 0);
  run(motion, 100, 30, 25);
  run(motion, 0, 0, 1);
  const double start = motion.energy();
  double before = start;
  double lost = 0;
  for (int i = 0; i < 500; ++i) {
    motion.advance(0);
    lost += motion.dissipation();
    motion.accept();
    const double energy = motion.energy();
    EXPECT_LE(energy, before * (1 + 1e-12)) << i;
    before = energy;
  }
  EXPECT_GT(lost, 0.5 * start);
  EXPECT_NEAR(start - before, lost, 1e-9 * start);
}

TEST(PantographMotion, GainsTheWorkOfItsForces) {
  PantographMotion motion(four_masses(25), 0.002, 0.3);
  const double start = motion.energy();
  double gained = 0;
  for (int i = 0; i < 500; ++i) {
    const double frame_n = 80 + 0.1 * i;
    const double contact_n = 60 + 30 * std::sin(0.1 * i);
    motion.advance(frame_n);
    motion.press(contact_n);
    gained += motion.frame_work(frame_n) - contact_n * motion.head_way() - motion.dissipation();
    motion.accept();
  }
  EXPECT_NEAR(motion.energy() - start, gained, 1e-9);
}

TEST(PantographMotion, IsStableAtAnyStiffness) {
  PantographModel model = four_masses(5);
  model.masses[0].stiffness_n_per_m = 1e9;
  PantographMotion motion(model, 0.005, 0);
  run(motion, 100, 0, 20);
  double before = motion.energy() + 1;
  for (int i = 0; i < 20; ++i) {
    run(motion, 0, 0, 500);
    EXPECT_LT(motion.energy(), before);
    before = motion.energy() * (1 + 1e-12);
  }
}

TEST(PantographMotion, RespondsToContactAsItSays) {
  PantographMotion motion(four_masses(25), 0.002, 0);
  motion.advance(50);
  const double free = motion.next_head();
  motion.press(40);
  EXPECT_NEAR(free - motion.next_head(), 40 * motion.head_response(), 1e-15);
  EXPECT_GT(motion.head_response(), 0);
}

}  // namespace

}  // namespace panup
