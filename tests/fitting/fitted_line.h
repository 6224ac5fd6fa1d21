#pragma once

#include "fitting/simulated_rows.h"

namespace panup {

/// An invented line of 20 spans of 50 m with all that a fit may look for, and the pantograph on it.
ContactLine fitted_line();
RunningPantograph fitted_pantograph();

inline constexpr double fitted_speed_kmh = 180;

/// What is true of the line that was "measured", and what its files say instead.
struct TrueValue {
  ModelInput quantity;
  double is;
  double in_files;
};
inline constexpr TrueValue true_values[] = {
    {ModelInput::support_stiffness, 90000, 200000},
    {ModelInput::static_force, 85, 72},
    {ModelInput::steady_arm_mass, 1.1, 0.7},
};

/// The line and pantographs with these quantities as they are, or as the files say.
void set_values(ContactLine& line, std::vector<RunningPantograph>& pantographs, bool as_they_are);

}  // namespace panup
