#include "bad_input_cases.h"

/// What a train runs on by, and where it may not stand.

namespace panup {

std::vector<BadInput> bad_running_cases() {
  constexpr FileKind stock = FileKind::stock;
  constexpr FileKind route = FileKind::route;
  constexpr FileKind train = FileKind::train;
  const auto with_gradient = [](const char* name, const std::string& keys, const std::string& text,
                                const std::string& at = "") {
    return BadInput{name, route, "[[lowered]]", "[[gradient]]\n" + keys + "\n[[lowered]]",
                    text, at};
  };
  const auto with_insulator = [](const char* name, const std::string& keys, const std::string& text,
                                 const std::string& at = "") {
    return BadInput{name, route, "[[lowered]]", "[[section_insulator]]\n" + keys + "\n[[lowered]]",
                    text, at};
  };
  return {
      {"MassOfNothing", stock, "length_m = 19.4", "length_m = 19.4\nmass_t = @0",
       "'mass_t' is 0; expected a value from 0.1 to 2000"},
      {"MassInKilograms", stock, "length_m = 19.4", "length_m = 19.4\n@mass_kg = 84000",
       "unknown key 'mass_kg'; did you mean 'mass_t'?"},
      {"ResistanceOfOneCoefficient", stock, "length_m = 19.4", "length_m = 19.4\ndavis_a_n = @1100",
       "key 'davis_b_n_per_kmh' is missing: running resistance takes all three coefficients; one "
       "that is nothing is stated as 0"},
      {"ResistanceThatPushes", stock, "length_m = 19.4",
       "length_m = 19.4\ndavis_a_n = @-5\ndavis_b_n_per_kmh = 0\ndavis_c_n_per_kmh2 = 0",
       "'davis_a_n' is -5; expected a value from 0 to 500000"},
      {"MassOfALoad", train, "wagons = \"tank-20\"", "wagons = \"tank-20\"\nmass_t = @-3",
       "'mass_t' is -3; expected a value from 0.1 to 30000"},
      with_gradient("GradientOfACliff", "from_km = 0\nto_km = 10\npermille = @200",
                    "'permille' is 200; expected a value from -120 to 120"),
      with_gradient("GradientInPercent", "from_km = 0\nto_km = 10\npermille = 2\n@percent = 2",
                    "unknown key 'percent'"),
      with_gradient("GradientThatEndsBeforeItBegins", "from_km = 8\nto_km = @3\npermille = 2",
                    "the gradient ends at km 3, before it begins at km 8"),
      with_gradient("GradientsThatOverlap",
                    "from_km = 0\nto_km = 10\npermille = 2\n@[[gradient]]\nfrom_km = 9\n"
                    "to_km = 20\npermille = 3",
                    "the gradient from km 9 begins within the one before, which ends at km 10"),
      with_insulator("InsulatorWithoutLength", "name = \"Mosk insulator\"\nat_km = 5.1",
                     "key 'length_m' is missing", "[[section_insulator]]"),
      with_insulator("InsulatorWithoutName", "at_km = 5.1\nlength_m = 4", "key 'name' is missing",
                     "[[section_insulator]]"),
      {"SignalAsText", route, "change_on_the_move = true",
       "change_on_the_move = true\nsignal = @\"yes\"",
       "'signal' is text; expected true or false, without quotes"},
      {"ConsentForARuleHasNoNumber", train, "number = 2\ndistance_m = 7.5\nspeed_kmh = 60",
       "rule = \"coasting\"\nspeed_kmh = @60",
       "'speed_kmh' is for raised pantographs; a consent for the rule 'coasting' has no number, "
       "distance or speed"},
  };
}

}  // namespace panup
