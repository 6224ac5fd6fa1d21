#include "dynamics/model_input.h"

#include <array>

namespace panup {

namespace {

struct InputWords {
  std::string_view name;
  std::string_view unit;
};

constexpr std::array<InputWords, model_inputs> input_words{{{"support-stiffness", "N/m"},
                                                            {"steady-arm-mass", "kg"},
                                                            {"mass-damping", "1/s"},
                                                            {"stiffness-damping", "s"},
                                                            {"static-force", "N"},
                                                            {"aerodynamic-factor", "N/(km/h)²"}}};

}  // namespace

std::string_view name_of(ModelInput input) {
  return input_words.at(static_cast<std::size_t>(input)).name;
}

std::string_view unit_of(ModelInput input) {
  return input_words.at(static_cast<std::size_t>(input)).unit;
}

bool is_of_line(ModelInput input) { return input < ModelInput::static_force; }

double value_of(ModelInput input, const ContactLine& line,
                const std::vector<RunningPantograph>& pantographs) {
  const Support& support = line.supports[line.supports.size() > 1 ? 1 : 0];
  const RunningPantograph& first = pantographs.front();
  switch (input) {
    case ModelInput::support_stiffness:
      return support.messenger_stiffness_n_per_m;
    case ModelInput::steady_arm_mass:
      return support.steady_arm_mass_kg;
    case ModelInput::mass_damping:
      return line.mass_damping_per_s;
    case ModelInput::stiffness_damping:
      return line.stiffness_damping_s;
    case ModelInput::static_force:
      return first.static_force_n;
    case ModelInput::aerodynamic_factor:
      return first.knuckle == Knuckle::leading
                 ? first.model.aerodynamic_knuckle_leading_n_per_kmh2
                 : first.model.aerodynamic_knuckle_trailing_n_per_kmh2;
  }
  return 0;
}

void multiply(ModelInput input, double factor, ContactLine& line,
              std::vector<RunningPantograph>& pantographs) {
  switch (input) {
    case ModelInput::support_stiffness:
      for (Support& support : line.supports) {
        support.messenger_stiffness_n_per_m *= factor;
      }
      break;
    case ModelInput::steady_arm_mass:
      for (Support& support : line.supports) {
        support.steady_arm_mass_kg *= factor;
      }
      break;
    case ModelInput::mass_damping:
      line.mass_damping_per_s *= factor;
      break;
    case ModelInput::stiffness_damping:
      line.stiffness_damping_s *= factor;
      break;
    case ModelInput::static_force:
      for (RunningPantograph& one : pantographs) {
        one.static_force_n *= factor;
      }
      break;
    case ModelInput::aerodynamic_factor:
      for (RunningPantograph& one : pantographs) {
        (one.knuckle == Knuckle::leading ? one.model.aerodynamic_knuckle_leading_n_per_kmh2
                                         : one.model.aerodynamic_knuckle_trailing_n_per_kmh2) *=
            factor;
      }
      break;
  }
}

}  // namespace panup
