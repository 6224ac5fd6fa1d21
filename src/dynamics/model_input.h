#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "dynamics/contact_line.h"
#include "dynamics/simulate.h"

namespace panup {

/// A figure of a contact line or its pantographs that data sheets seldom state well.
enum class ModelInput : std::uint8_t {
  support_stiffness,
  steady_arm_mass,
  mass_damping,
  stiffness_damping,
  static_force,
  aerodynamic_factor
};

inline constexpr int model_inputs = 6;

/// "support-stiffness", …, as on the command line.
std::string_view name_of(ModelInput input);
/// Of its value: "N/m", "kg", "1/s", "s", "N", "N/(km/h)²".
std::string_view unit_of(ModelInput input);
/// Whether it belongs to the line; else to the pantographs.
bool is_of_line(ModelInput input);

/// What an input is: of the first inner support for what supports may differ in, of the first
/// pantograph, knuckle as it runs. 0 where there is nothing of it.
double value_of(ModelInput input, const ContactLine& line,
                const std::vector<RunningPantograph>& pantographs);

/// Multiplies an input, everywhere it occurs; the aerodynamic factor as the knuckle runs.
void multiply(ModelInput input, double factor, ContactLine& line,
              std::vector<RunningPantograph>& pantographs);

}  // namespace panup
