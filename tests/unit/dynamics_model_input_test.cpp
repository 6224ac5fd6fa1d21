#include <gtest/gtest.h>

#include "dynamics/model_input.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

/// A line whose first support is unlike the others, under one pantograph with its knuckle in front
/// and one with it behind.
struct Model {
  ContactLine line = sample_line_with_everything(10);
  std::vector<RunningPantograph> pantographs;

  Model() {
    line.mass_damping_per_s = 0.05;
    line.stiffness_damping_s = 1e-4;
    line.supports.front().messenger_stiffness_n_per_m = 90000;
    line.supports.front().steady_arm_mass_kg = 0.1;
    RunningPantograph one{.model = sample_pantograph(), .static_force_n = 80};
    one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.0005;
    one.model.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0007;
    pantographs = {one, one};
    pantographs.back().static_force_n = 60;
    pantographs.back().knuckle = Knuckle::trailing;
  }

  double value(ModelInput input) const { return value_of(input, line, pantographs); }
};

TEST(ModelInput, IsThatOfTheFirstInnerSupportAndOfTheFirstPantograph) {
  Model model;
  EXPECT_EQ(model.value(ModelInput::support_stiffness), 500000);
  EXPECT_EQ(model.value(ModelInput::steady_arm_mass), 0.8);
  EXPECT_EQ(model.value(ModelInput::mass_damping), 0.05);
  EXPECT_EQ(model.value(ModelInput::stiffness_damping), 1e-4);
  EXPECT_EQ(model.value(ModelInput::static_force), 80);
  EXPECT_EQ(model.value(ModelInput::aerodynamic_factor), 0.0005);
  model.pantographs.front().knuckle = Knuckle::trailing;
  EXPECT_EQ(model.value(ModelInput::aerodynamic_factor), 0.0007);
}

TEST(ModelInput, IsMultipliedByItself) {
  const Model before;
  for (int i = 0; i < model_inputs; ++i) {
    Model after;
    multiply(static_cast<ModelInput>(i), 2, after.line, after.pantographs);
    for (int k = 0; k < model_inputs; ++k) {
      const auto other = static_cast<ModelInput>(k);
      EXPECT_EQ(after.value(other), (i == k ? 2 : 1) * before.value(other))
          << name_of(static_cast<ModelInput>(i)) << ", " << name_of(other);
    }
  }
}

TEST(ModelInput, IsMultipliedEverywhere) {
  Model model;
  for (int i = 0; i < model_inputs; ++i) {
    multiply(static_cast<ModelInput>(i), 2, model.line, model.pantographs);
  }
  EXPECT_EQ(model.line.supports.front().messenger_stiffness_n_per_m, 180000);
  EXPECT_EQ(model.line.supports.back().messenger_stiffness_n_per_m, 1e6);
  EXPECT_EQ(model.line.supports.front().steady_arm_mass_kg, 0.2);
  EXPECT_EQ(model.line.supports.back().steady_arm_mass_kg, 1.6);
  EXPECT_EQ(model.pantographs.back().static_force_n, 120);
  EXPECT_EQ(model.pantographs.back().model.aerodynamic_knuckle_trailing_n_per_kmh2, 0.0014);
  EXPECT_EQ(model.pantographs.back().model.aerodynamic_knuckle_leading_n_per_kmh2, 0.0005)
      << "it does not run with that one";
}

TEST(ModelInput, BelongsToTheLineOrToThePantographs) {
  for (int i = 0; i < model_inputs; ++i) {
    const auto input = static_cast<ModelInput>(i);
    Model model;
    multiply(input, 2, model.line, model.pantographs);
    const Model before;
    const bool line_stays = model.line.supports == before.line.supports &&
                            model.line.mass_damping_per_s == before.line.mass_damping_per_s &&
                            model.line.stiffness_damping_s == before.line.stiffness_damping_s;
    EXPECT_EQ(is_of_line(input), !line_stays) << name_of(input);
  }
}

}  // namespace

}  // namespace panup
