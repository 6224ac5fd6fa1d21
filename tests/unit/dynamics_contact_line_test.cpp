#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/contact_line.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

TEST(ContactLine, IsAsLongAsItsSpansAndHasSupportsAtTheirEnds) {
  ContactLine line = sample_line(3);
  line.spans[1].length_m = 40;
  line.spans[2].length_m = 65;
  EXPECT_EQ(length_of(line), 155);
  EXPECT_EQ(support_positions(line), (std::vector<double>{0, 50, 90, 155}));
}

TEST(ContactLine, TwoContactWiresAreOneOfTwiceAllButTheWaveSpeed) {
  ContactLine line = sample_line(3);
  line.contact_wires = 2;
  line.contact_wire = {.tension_n = 12000,
                       .mass_kg_per_m = 1.07,
                       .bending_stiffness_nm2 = 130,
                       .axial_stiffness_n = 12e6,
                       .thermal_expansion_per_k = 1.7e-5};
  const Wire both = combined_contact_wire(line);
  EXPECT_EQ(both.tension_n, 24000);
  EXPECT_EQ(both.mass_kg_per_m, 2.14);
  EXPECT_EQ(both.bending_stiffness_nm2, 260);
  EXPECT_EQ(both.axial_stiffness_n, 24e6);
  EXPECT_EQ(both.thermal_expansion_per_k, 1.7e-5);
  EXPECT_DOUBLE_EQ(wave_speed(both), wave_speed(line.contact_wire));
}

// c = √(T/m′): 120 mm² of 1.08 kg/m at 15 kN, 424 km/h; at 27 kN, 569 km/h. Kiessling, Puschmann,
// Schmieder, Contact Lines for Electric Railways (from memory).
TEST(ContactLine, WaveSpeedIsThatOfTheHandbook) {
  EXPECT_NEAR(3.6 * wave_speed({.tension_n = 15000, .mass_kg_per_m = 1.08}), 424, 0.5);
  EXPECT_NEAR(3.6 * wave_speed({.tension_n = 27000, .mass_kg_per_m = 1.08}), 569, 0.5);
}

}  // namespace

}  // namespace panup
