#include "fitted_line.h"

#include "dynamics_sample_line.h"

namespace panup {

ContactLine fitted_line() {
  ContactLine line = sample_line(20);
  line.id = "fitted";
  line.mass_damping_per_s = 0.05;
  line.stiffness_damping_s = 1e-4;
  for (Support& support : line.supports) {
    support.messenger_mass_kg = 1;
    support.steady_arm_mass_kg = 1;
  }
  return line;
}

RunningPantograph fitted_pantograph() {
  RunningPantograph one;
  one.model = sample_pantograph();
  one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.0005;
  one.static_force_n = 80;
  return one;
}

void set_values(ContactLine& line, std::vector<RunningPantograph>& pantographs, bool as_they_are) {
  for (const TrueValue& value : true_values) {
    const double now = value_of(value.quantity, line, pantographs);
    multiply(value.quantity, (as_they_are ? value.is : value.in_files) / now, line, pantographs);
  }
}

}  // namespace panup
