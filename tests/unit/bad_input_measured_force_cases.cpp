#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_measured_force_cases() {
  constexpr FileKind kind = FileKind::measured_force;
  return {
      {"FilterNotStated", kind, "recorded_low_pass_hz = 20\n", "",
       "the filter that the force was recorded with is not stated; state 'recorded_low_pass_hz', "
       "the filter's cut-off, or 'recorded_unfiltered = true'"},
      {"FilteredAndNot", kind, "recorded_low_pass_hz = 20\n",
       "recorded_low_pass_hz = 20\nrecorded_unfiltered = @true\n",
       "a record is filtered or it is not; state 'recorded_low_pass_hz', the filter's cut-off, or "
       "'recorded_unfiltered = true'"},
      {"SamplingNotStated", kind, "sampled_every_m = 0.5\n", "",
       "how far the rows are apart is not stated; give one of 'sampled_every_m' and "
       "'sampled_every_ms': wider steps are gaps"},
      {"SampledBothWays", kind, "sampled_every_m = 0.5\n",
       "sampled_every_m = 0.5\nsampled_every_ms = @2\n",
       "both ways of sampling are given; give one of 'sampled_every_m' and 'sampled_every_ms': "
       "wider steps are gaps"},
      {"SampledByATimeThatNoColumnHas", kind, "sampled_every_m = 0.5", "sampled_every_ms = @2",
       "rows sampled by time need a column of the time, 'time_s' or 'time_ms' in [column]"},
      {"NoForce", kind, "force_n = \"F\"\n", "",
       "no column has the force: 'force_n' or 'force_kn' names its heading", "[column]"},
      {"ForceInTwoUnits", kind, "force_n = \"F\"\n", "force_n = \"F\"\nforce_kn = @\"kF\"\n",
       "'force_n' and 'force_kn' are both given; one of them names the column"},
      {"NoPlace", kind, "chainage_km = \"km\"\n", "", "...no column says where the rows are",
       "[column]"},
      {"NoSpeed", kind, "speed_kmh = \"v\"\n", "",
       "the speed is not known: name its column in [column], or give 'speed_kmh'"},
      {"SpeedTwice", kind, "sampled_every_m = 0.5\n", "sampled_every_m = 0.5\nspeed_kmh = @140\n",
       "a column has the speed; 'speed_kmh' is for records without one"},
      {"CommaForBoth", kind, "separator = \";\"\ndecimal = \",\"",
       "separator = \",\"\ndecimal = @\",\"",
       "cells cannot be separated by the comma that divides decimals"},
      {"RowsAboveTheHeading", kind, "rows_from_line = 4", "rows_from_line = @2",
       "rows come after the heading, which is line 2"},
      {"RunTwice", kind, "id = \"r2\"", "id = @\"r1\"", "...id 'r1' is used already"},
      {"RunWithoutRows", kind, "file = \"r2.csv\"\n", "", "key 'file' is missing",
       "[[run]]\nid = \"r2\""},
      {"BeginsThoughAColumnSaysWhere", kind, "file = \"r2.csv\"",
       "file = \"r2.csv\"\nbegins_at_m = @0",
       "a column has the chainage; this is for records without one"},
      {"PantographNowhere", kind, "behind_first_m = 30\n", "",
       "key 'behind_first_m' is missing: the distance behind the first pantograph in m",
       "[[pantograph]]\nid = \"rear\""},
      {"PantographsInTheWrongOrder", kind, "behind_first_m = 30", "behind_first_m = @0.5",
       "'behind_first_m' is 0.5; pantographs come first in front, each 1 m or more behind the one "
       "before, which is at 0"},
      {"FirstBehindItself", kind, "knuckle = \"leading\"\n",
       "knuckle = \"leading\"\nbehind_first_m = @5\n",
       "this is the first pantograph; it is 0 here"},
      {"TwoInOneColumn", kind, "pantograph = \"p\"\n", "",
       "force of 2 pantographs was measured; 'pantograph' in [column] names the column that says "
       "whose a row is",
       "[[pantograph]]\nid = \"front\""},
      {"LengthOverAnother", kind, "from_m = 13040", "from_m = @13000",
       "it begins at 13000 m, before 'A1' ends at 13040 m; they come by rising chainage, none over "
       "another"},
      {"LengthWithoutSpans", kind, "spans_m = [65, 60, 55]\n", "",
       "give the lengths of its spans: 'spans_m' for each, or 'span_m' and their number 'spans' "
       "where all are alike",
       "[[tension_length]]\nid = \"A2\""},
      {"SpansWithoutANumber", kind, "spans = 16\n", "",
       "'spans' is missing: how many spans there are", "[[tension_length]]\nid = \"A1\""},
      {"LaidWithoutALine", kind,
       "contact_line = \"../lines/nv-140.toml\"\ncontact_line_at_m = 12000",
       "contact_line_at_m = @12000", "no contact line is named; 'contact_line' names its file"},
      {"MisspeltColumn", kind, "speed_kmh = \"v\"", "speed_kmh = \"v\"\n@chainage_mm = \"x\"",
       "...unknown unit 'mm' in key 'chainage_mm'"},
  };
}

}  // namespace panup
