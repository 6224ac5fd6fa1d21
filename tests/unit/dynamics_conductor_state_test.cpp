#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/conductor_state.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

Wire fixed_wire() {
  Wire wire;
  wire.tension_n = 12000;
  wire.axial_stiffness_n = 18e6;
  wire.thermal_expansion_per_k = 1.7e-5;
  return wire;
}

constexpr ConductorState as_built{20, 10};

TEST(ConductorState, KeepsItsTensionInTheSameState) {
  for (const double span : {5.0, 40.0, 65.0, 400.0}) {
    EXPECT_NEAR(*tension_after(fixed_wire(), as_built, as_built, span), 12000, 1e-6) << span;
  }
}

TEST(ConductorState, TightensWithColdAndLoadAndSlackensWithWarmth) {
  double before = 0;
  for (const double celsius : {80.0, 40.0, 10.0, -10.0, -40.0}) {
    const double tension = *tension_after(fixed_wire(), as_built, {20, celsius}, 60);
    EXPECT_GT(tension, before) << celsius;
    before = tension;
  }
  before = 0;
  for (const double load : {10.0, 20.0, 30.0, 60.0}) {
    const double tension = *tension_after(fixed_wire(), as_built, {load, 10}, 60);
    EXPECT_GT(tension, before) << load;
    before = tension;
  }
}

TEST(ConductorState, ChangesAsAHeldRodInAVeryShortSpan) {
  // T₀ − E A ε Δθ
  EXPECT_NEAR(*tension_after(fixed_wire(), as_built, {20, -20}, 0.01), 12000 + 9180, 0.01);
  EXPECT_NEAR(*tension_after(fixed_wire(), as_built, {20, 30}, 0.01), 12000 - 6120, 0.01);
}

TEST(ConductorState, HangsByItsWeightAloneInAVeryLongSpan) {
  // Length changes no longer matter: the sag stays, and T is in proportion to the load.
  EXPECT_NEAR(*tension_after(fixed_wire(), as_built, {40, -20}, 50000), 24000, 1);
}

TEST(ConductorState, AgreesWithARootFoundIndependently) {
  // SciPy 1.10.1, scipy.optimize.brentq on the state-change equation, xtol 1e-10.
  EXPECT_NEAR(*tension_after(fixed_wire(), as_built, {20, -20}, 60), 17291.915293125887, 1e-5);
  EXPECT_NEAR(*tension_after(fixed_wire(), as_built, {20, 50}, 60), 8224.872140879876, 1e-5);
  EXPECT_NEAR(*tension_after(fixed_wire(), as_built, {35, -5}, 60), 18624.85455801335, 1e-5);
}

TEST(ConductorState, MeetsTheEquationOverAllItsRange) {
  const Wire wire = fixed_wire();
  for (const double span : {8.0, 30.0, 65.0, 120.0}) {
    for (const double celsius : {-40.0, 0.0, 45.0, 100.0}) {
      for (const double load : {12.0, 20.0, 55.0}) {
        const double t = *tension_after(wire, as_built, {load, celsius}, span);
        ASSERT_GT(t, 0);
        const double share = wire.axial_stiffness_n * span * span / 24;
        const double bracket = share * 20 * 20 / (12000.0 * 12000.0) +
                               wire.axial_stiffness_n * 1.7e-5 * (celsius - 10) - 12000;
        EXPECT_NEAR((t * t * t + t * t * bracket) / (share * load * load), 1, 1e-7)
            << span << ' ' << celsius << ' ' << load;
      }
    }
  }
}

TEST(ConductorState, SaysNothingWhereTheWiresFiguresAreNotKnown) {
  Wire wire = fixed_wire();
  wire.axial_stiffness_n = 0;
  EXPECT_FALSE(tension_after(wire, as_built, {20, 0}, 60));
  wire = fixed_wire();
  wire.thermal_expansion_per_k = 0;
  EXPECT_FALSE(tension_after(wire, as_built, {20, 0}, 60));
}

TEST(RulingSpan, IsTheSpanWhereAllAreEqual) { EXPECT_NEAR(ruling_span(sample_line(6)), 50, 1e-12); }

TEST(RulingSpan, LiesAboveTheMeanWhereTheyAreNot) {
  ContactLine line = sample_line(2);
  line.spans[0].length_m = 40;
  line.spans[1].length_m = 60;
  EXPECT_NEAR(ruling_span(line), std::sqrt(280000.0 / 100), 1e-12);
  EXPECT_GT(ruling_span(line), 50);
}

}  // namespace

}  // namespace panup
