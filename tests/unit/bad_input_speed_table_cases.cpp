#include <fmt/format.h>

#include "bad_input_cases.h"

namespace panup {

namespace {

/// A list of so many files.
std::string files(char letter, int number) {
  std::string list = "[";
  for (int i = 0; i < number; ++i) {
    list += fmt::format("{}\"{}{}.toml\"", i == 0 ? "" : ", ", letter, i);
  }
  return list + "]";
}

/// The numbers from 1 to `last`.
std::string rising(int last) {
  std::string list = "[";
  for (int i = 1; i <= last; ++i) {
    list += fmt::format("{}{}", i == 1 ? "" : ", ", i);
  }
  return list + "]";
}

}  // namespace

std::vector<BadInput> bad_speed_table_cases() {
  constexpr FileKind kind = FileKind::speed_table;
  return {
      {"TableWithoutId", kind, "id = \"all-lines\"\n", "", "...key 'id' is missing"},
      {"TableWithoutLines", kind, "contact_lines = [\"l-1.toml\", \"../lines/l-2.toml\"]\n", "",
       "...key 'contact_lines' is missing"},
      {"TableOfNoLine", kind, "[\"l-1.toml\", \"../lines/l-2.toml\"]", "@[]",
       "'contact_lines' names 0 files; expected 1 to 200"},
      {"ModelTwice", kind, "\"p-2.toml\"", "@\"p-1.toml\"",
       "'p-1.toml' is named already, in line 6"},
      {"TableOnAnUnknownSystem", kind, "\"AC 15 kV 16.7 Hz\"", "@\"AC 15 kV\"", "...\"AC 15 kV\""},
      {"NothingIsRaised", kind, "raised = [1, 2]\n", "",
       "key 'raised' is missing: how many pantographs are raised, as in raised = [1, 2]"},
      {"RaisedIsEmpty", kind, "raised = [1, 2]", "raised = @[]",
       "the list is empty; expected at least one number"},
      {"RaisedDoesNotRise", kind, "raised = [1, 2]", "raised = [2, @2]",
       "2 comes after 2; the numbers of 'raised' rise"},
      {"NineRaised", kind, "raised = [1, 2]", "raised = [1, @9]",
       "...'raised' is 9; expected a value from 1 to 8"},
      {"NoDistances", kind, "\n[distances]\nfrom_m = 12\nto_m = 48\nstep_m = 6\n", "",
       "key 'distances_m' is missing: the distances between one pantograph and the next, as in "
       "distances_m = [12, 24, 36]"},
      {"DistancesThoughOneIsRaised", kind, "raised = [1, 2]", "raised = [1]",
       "one raised pantograph has no distances; 'raised' asks for no more than one", "[distances]"},
      {"DistancesTwice", kind, "up_to_kmh = 160\n", "up_to_kmh = 160\ndistances_m = @[12]\n",
       "distances are given twice: by 'distances_m' and by [distances]"},
      {"ListedDistancesDoNotRise", kind,
       "seed = 3\n\n[distances]\nfrom_m = 12\nto_m = 48\nstep_m = 6\n",
       "seed = 3\ndistances_m = [12, 36, @24]\n",
       "24 comes after 36; the numbers of 'distances_m' rise"},
      {"ListedDistancesAreNone", kind,
       "seed = 3\n\n[distances]\nfrom_m = 12\nto_m = 48\nstep_m = 6\n",
       "seed = 3\ndistances_m = @[]\n", "the list is empty; expected at least one distance"},
      {"DistancesEndBeforeTheyBegin", kind, "to_m = 48", "to_m = @6",
       "the distances end at 6 m, before they begin at 12 m"},
      {"TooManyDistances", kind, "to_m = 48\nstep_m = 6", "to_m = 248\nstep_m = @1",
       "there are 237 distances; at most 200"},
      {"DistancesWithoutStep", kind, "step_m = 6\n", "", "...key 'step_m' is missing",
       "[distances]"},
      {"UnknownKeyOfDistances", kind, "step_m = 6\n", "step_m = 6\n@by_m = 6\n", "...'by_m'"},
      {"KnuckleNeitherWay", kind, "\"both\"", "@\"up\"", "...\"up\""},
      {"TableWithoutGreatestSpeed", kind, "up_to_kmh = 160\n", "", "...key 'up_to_kmh' is missing"},
      {"TableFasterThanAnything", kind, "up_to_kmh = 160", "up_to_kmh = @1600",
       "...expected a value from 5 to 500"},
      {"TableTooHot", kind, "temperature_c = 5", "temperature_c = @90",
       "...expected a value from -60 to 60"},
      {"TooManySamples", kind, "samples = 20", "samples = @2000",
       "...expected a value from 0 to 1000"},
      {"SeedBelowZero", kind, "seed = 3", "seed = @-3", "...expected a value from 0 to 999999"},
      {"TooManyFiles", kind, "[\"l-1.toml\", \"../lines/l-2.toml\"]", "@" + files('l', 201),
       "'contact_lines' names 201 files; expected 1 to 200"},
      // 120 lines, 120 models, one alone and two at seven distances.
      {"TooManyRows", kind,
       "contact_lines = [\"l-1.toml\", \"../lines/l-2.toml\"]\npantographs = [\"p-1.toml\", "
       "\"p-2.toml\"]",
       "contact_lines = " + files('l', 120) + "\npantographs = " + files('p', 120),
       "the table would have 115200 rows; at most 100000"},
      {"ManyListedDistances", kind, "seed = 3\n\n[distances]\nfrom_m = 12\nto_m = 48\nstep_m = 6\n",
       "seed = 3\ndistances_m = @" + rising(201) + "\n", "there are 201 distances; at most 200"},
      {"UnknownKeyOfATable", kind, "seed = 3\n", "seed = 3\n@sedd = 4\n", "...'sedd'"},
  };
}

}  // namespace panup
