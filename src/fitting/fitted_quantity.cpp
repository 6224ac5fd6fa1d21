#include "fitting/fitted_quantity.h"

#include <array>

namespace panup {

namespace {

struct Words {
  std::string_view name;
  std::string_view unit;
};

constexpr std::array<Words, fitted_quantities> words{{{"support-stiffness", "N/m"},
                                                      {"steady-arm-mass", "kg"},
                                                      {"mass-damping", "1/s"},
                                                      {"stiffness-damping", "s"},
                                                      {"static-force", "N"},
                                                      {"aerodynamic-factor", "N/(km/h)²"}}};

}  // namespace

std::string_view name_of(FittedQuantity quantity) {
  return words.at(static_cast<std::size_t>(quantity)).name;
}

std::string_view unit_of(FittedQuantity quantity) {
  return words.at(static_cast<std::size_t>(quantity)).unit;
}

bool is_of_line(FittedQuantity quantity) { return quantity < FittedQuantity::static_force; }

double value_of(FittedQuantity quantity, const ContactLine& line,
                const std::vector<RunningPantograph>& pantographs) {
  const Support& support = line.supports[line.supports.size() > 1 ? 1 : 0];
  const RunningPantograph& first = pantographs.front();
  switch (quantity) {
    case FittedQuantity::support_stiffness:
      return support.messenger_stiffness_n_per_m;
    case FittedQuantity::steady_arm_mass:
      return support.steady_arm_mass_kg;
    case FittedQuantity::mass_damping:
      return line.mass_damping_per_s;
    case FittedQuantity::stiffness_damping:
      return line.stiffness_damping_s;
    case FittedQuantity::static_force:
      return first.static_force_n;
    case FittedQuantity::aerodynamic_factor:
      return first.knuckle == Knuckle::leading
                 ? first.model.aerodynamic_knuckle_leading_n_per_kmh2
                 : first.model.aerodynamic_knuckle_trailing_n_per_kmh2;
  }
  return 0;
}

void multiply(FittedQuantity quantity, double factor, ContactLine& line,
              std::vector<RunningPantograph>& pantographs) {
  switch (quantity) {
    case FittedQuantity::support_stiffness:
      for (Support& support : line.supports) {
        support.messenger_stiffness_n_per_m *= factor;
      }
      break;
    case FittedQuantity::steady_arm_mass:
      for (Support& support : line.supports) {
        support.steady_arm_mass_kg *= factor;
      }
      break;
    case FittedQuantity::mass_damping:
      line.mass_damping_per_s *= factor;
      break;
    case FittedQuantity::stiffness_damping:
      line.stiffness_damping_s *= factor;
      break;
    case FittedQuantity::static_force:
      for (RunningPantograph& one : pantographs) {
        one.static_force_n *= factor;
      }
      break;
    case FittedQuantity::aerodynamic_factor:
      for (RunningPantograph& one : pantographs) {
        (one.knuckle == Knuckle::leading ? one.model.aerodynamic_knuckle_leading_n_per_kmh2
                                         : one.model.aerodynamic_knuckle_trailing_n_per_kmh2) *=
            factor;
      }
      break;
  }
}

}  // namespace panup
