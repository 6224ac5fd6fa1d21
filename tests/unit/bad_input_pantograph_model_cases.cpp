#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_pantograph_model_cases() {
  constexpr FileKind kind = FileKind::pantograph_model;
  return {
      {"IdMissing", kind, "id = \"pm-1\"\n", "", "key 'id' is missing"},
      {"NameEmpty", kind, "name = \"Model one\"", "name = @\" \"", "'name' is empty"},
      {"HeadWithoutMass", kind, "mass_kg = 6\n", "", "key 'mass_kg' is missing",
       "[[mass]]\nstiffness_n_per_m = 7000"},
      {"MassOfZero", kind, "mass_kg = 6\n", "mass_kg = @0\n",
       "'mass_kg' is 0; expected a value from 0.1 to 100"},
      {"MassNotANumber", kind, "mass_kg = 9", "mass_kg = @nan",
       "'mass_kg' is nan; expected a value from 0.1 to 100"},
      {"StiffnessInfinite", kind, "stiffness_n_per_m = 14000", "stiffness_n_per_m = @inf",
       "'stiffness_n_per_m' is inf; expected a value from 0 to 1e+06"},
      {"StiffnessBelowZero", kind, "stiffness_n_per_m = 14000", "stiffness_n_per_m = @-14000",
       "'stiffness_n_per_m' is -14000; expected a value from 0 to 1e+06"},
      {"HeadOnNoSpring", kind, "stiffness_n_per_m = 7000", "stiffness_n_per_m = @0",
       "'stiffness_n_per_m' is 0; only the lowest mass may stand on no spring"},
      {"HeadOnASoftSpring", kind, "stiffness_n_per_m = 7000", "stiffness_n_per_m = @100",
       "the 6 kg that stand on this spring press it down by 0.59 m; at most 0.5 m is credible"},
      {"FrameOnASoftSpring", kind, "stiffness_n_per_m = 14000", "stiffness_n_per_m = @200",
       "the 15 kg that stand on this spring press it down by 0.74 m; at most 0.5 m is credible"},
      {"DampingMissing", kind, "damping_ns_per_m = 12\n", "", "key 'damping_ns_per_m' is missing",
       "[[mass]]\nmass_kg = 6"},
      {"DampingBelowZero", kind, "damping_ns_per_m = 5", "damping_ns_per_m = @-5",
       "'damping_ns_per_m' is -5; expected a value from 0 to 10000"},
      {"DampingMisspelt", kind, "damping_ns_per_m = 5",
       "damping_ns_per_m = 5\n@dampng_ns_per_m = 5",
       "unknown key 'dampng_ns_per_m'; did you mean 'damping_ns_per_m'?"},
      {"FiveMasses", kind, "mass_kg = 14\nstiffness_n_per_m = 0\ndamping_ns_per_m = 70\n",
       "mass_kg = 14\nstiffness_n_per_m = 9000\ndamping_ns_per_m = 70\n"
       "[[mass]]\nmass_kg = 1\nstiffness_n_per_m = 9000\ndamping_ns_per_m = 0\n"
       "[[mass]]\nmass_kg = 1\nstiffness_n_per_m = 9000\ndamping_ns_per_m = 0\n",
       "the model has 5 masses; at most 4", "[[mass]]\nmass_kg = 6"},
      {"StaticForceBelowZero", kind, "static_force_n = 70", "static_force_n = @-70",
       "'static_force_n' is -70; expected a value from 20 to 300"},
      {"StaticForceOfASystemTooGreat", kind, "static_force_n = 100", "static_force_n = @1000",
       "'static_force_n' is 1000; expected a value from 20 to 300"},
      {"SystemTwice", kind, "system = \"DC 1.5 kV\"", "system = @\"DC 3 kV\"",
       "DC 3 kV is given twice"},
      {"SystemUnknown", kind, "system = \"DC 1.5 kV\"", "system = @\"DC 1,5 kV\"",
       "...'system' is \"DC 1,5 kV\"; did you mean \"DC 1.5 kV\"?"},
      {"StaticForceOfASystemMissing", kind, "static_force_n = 110\n", "",
       "key 'static_force_n' is missing", "[[static_force]]\nsystem = \"DC 1.5 kV\""},
      {"AerodynamicMissing", kind, "aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0006\n", "",
       "key 'aerodynamic_knuckle_trailing_n_per_kmh2' is missing"},
      {"AerodynamicPerMetre", kind, "knuckle_leading_n_per_kmh2 = 0.0004",
       "knuckle_leading_n_per_kmh2 = @0.04",
       "...'aerodynamic_knuckle_leading_n_per_kmh2' is 0.04; expected a value from -0.01 to 0.01"},
      {"AerodynamicAsText", kind, "knuckle_leading_n_per_kmh2 = 0.0004",
       "knuckle_leading_n_per_kmh2 = @\"0.0004\"",
       "'aerodynamic_knuckle_leading_n_per_kmh2' is text; expected a number, without quotes"},
      {"ContactTooSoft", kind, "contact_stiffness_n_per_m = 60000",
       "contact_stiffness_n_per_m = @60",
       "'contact_stiffness_n_per_m' is 60; expected a value from 1000 to 1e+07"},
      {"ContactMisspelt", kind, "contact_stiffness_n_per_m = 60000",
       "@contact_stifness_n_per_m = 60000",
       "unknown key 'contact_stifness_n_per_m'; did you mean 'contact_stiffness_n_per_m'?"},
      {"KindMisspelt", kind, "kind = \"pantograph model\"", "kind = @\"pantograph modell\"",
       "...'kind' is \"pantograph modell\"; did you mean \"pantograph model\"?"},
  };
}

}  // namespace panup
