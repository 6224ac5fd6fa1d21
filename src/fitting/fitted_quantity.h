#pragma once
/// The room `fitting`: the model fitted to what was measured. It changes chosen figures of a
/// contact line and its pantographs until the simulated contact force lies as near to the measured
/// one as it can, says how sure each figure is, and which of them the record cannot tell.
///
/// This header is what can be fitted.

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "dynamics/contact_line.h"
#include "dynamics/simulate.h"

namespace panup {

enum class FittedQuantity : std::uint8_t {
  support_stiffness,
  steady_arm_mass,
  mass_damping,
  stiffness_damping,
  static_force,
  aerodynamic_factor
};

inline constexpr int fitted_quantities = 6;

/// "support-stiffness", …, as on the command line.
std::string_view name_of(FittedQuantity quantity);
/// Of its value: "N/m", "kg", "1/s", "s", "N", "N/(km/h)²".
std::string_view unit_of(FittedQuantity quantity);
/// Whether it belongs to the line; else to the pantographs.
bool is_of_line(FittedQuantity quantity);

/// What a quantity is: of the first inner support for what supports may differ in, of the first
/// pantograph, knuckle as it runs. 0 where there is nothing of it.
double value_of(FittedQuantity quantity, const ContactLine& line,
                const std::vector<RunningPantograph>& pantographs);

/// Multiplies a quantity, everywhere it occurs; the aerodynamic factor as the knuckle runs.
void multiply(FittedQuantity quantity, double factor, ContactLine& line,
              std::vector<RunningPantograph>& pantographs);

}  // namespace panup
