#include "bad_input_cases.h"

namespace panup {

std::vector<BadInput> bad_train_cases() {
  constexpr FileKind kind = FileKind::train;
  return {
      {"UnknownVehicleType", kind, "vehicle = \"k41\"", "vehicle = @\"k14\"",
       "there is no vehicle type 'k14'; did you mean 'k41'?"},
      {"StrangeVehicleType", kind, "vehicle = \"k41\"", "vehicle = @\"express\"",
       "there is no vehicle type 'express'"},
      {"WagonGroupAsVehicle", kind, "vehicle = \"k41\"", "vehicle = @\"tank-20\"",
       "'tank-20' is a wagon group; it is named by 'wagons' in an entry with 'load'"},
      {"LocomotiveAsWagons", kind, "wagons = \"tank-20\"", "wagons = @\"k41\"",
       "'k41' is a locomotive; expected a wagon group"},
      {"NoSuchPantograph", kind, "defective_pantographs = [2]", "defective_pantographs = @[3]",
       "'k41' has no pantograph 3; it has 2"},
      {"DemandBeyondWhatTheControlAllows", kind, "running_a = 500", "running_a = @901",
       "it is stated to draw 901 A, but the control of a k41 lets it draw no more than 900 A"},
      {"SamePantographDefectiveTwice", kind, "defective_pantographs = [2]",
       "defective_pantographs = @[2, 2]", "the same pantograph is named twice"},
      {"PartOfAPantograph", kind, "defective_pantographs = [2]",
       "defective_pantographs = [1, @1.5]",
       "'defective_pantographs' is a number; expected a whole number"},
      {"PantographsNotAList", kind, "defective_pantographs = [2]", "defective_pantographs = @2",
       "'defective_pantographs' is a whole number; expected a list of whole numbers in [ ]"},
      {"ThirdCab", kind, "leading_cab = 1", "leading_cab = @3",
       "'leading_cab' is 3; expected a value from 1 to 2"},
      {"CabMissing", kind, "leading_cab = 1\n", "", "key 'leading_cab' is missing",
       "[[consist]]\nvehicle"},
      {"NoLength", kind, "wagons = \"tank-20\"\n", "",
       "a load needs 'length_m', or 'wagons' with the id of a wagon group type",
       "[[consist]]\nload"},
      {"LengthAndWagons", kind, "wagons = \"tank-20\"", "wagons = \"tank-20\"\nlength_m = 300",
       "a load has either 'length_m' or 'wagons', not both", "[[consist]]\nload"},
      {"LengthInFeet", kind, "wagons = \"tank-20\"", "length_m = 300\n@length_ft = 900",
       "unknown unit 'ft' in key 'length_ft'; it would be 'length_m'"},
      {"LengthWithoutUnit", kind, "wagons = \"tank-20\"", "length_m = 300\n@length = 300",
       "key 'length' lacks its unit; it would be 'length_m'"},
      {"SpeedInMilesPerHour", kind, "highest_speed_kmh = 100", "@highest_speed_mph = 60",
       "unknown unit 'mph' in key 'highest_speed_mph'; it would be 'highest_speed_kmh'"},
      {"UnknownNature", kind, "nature = \"dangerous\"", "nature = @\"dangerus\"",
       "'nature' is \"dangerus\"; did you mean \"dangerous\"? It is one of \"ordinary\", "
       "\"dangerous\" or \"sensitive\""},
      {"OnlyVehicleDead", kind, "leading_cab = 1", "leading_cab = 1\ndead_in_tow = true",
       "the train has no working vehicle with a pantograph", "[[consist]]\nvehicle"},
      {"TooManyPantographs", kind, "[[consent]]",
       "[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n[[consist]]\nvehicle = \"k41\"\n"
       "leading_cab = 1\n[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n[[consist]]\n"
       "vehicle = \"k41\"\nleading_cab = 1\n[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n"
       "[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n[[consist]]\nvehicle = \"k41\"\n"
       "leading_cab = 1\n[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n[[consent]]",
       "the train has 18 pantographs; at most 16 can be planned", "[[consist]]\nvehicle"},
      {"CurrentTwice", kind, "standstill_a = 20",
       "standstill_a = 20\n[[consist.current]]\nsystem = @\"AC 15 kV 16.7 Hz\"\nrunning_a = 1\n"
       "standstill_a = 1",
       "AC 15 kV 16.7 Hz is given twice"},
      {"NegativeCurrent", kind, "running_a = 500", "running_a = @-500",
       "'running_a' is -500; expected a value from 0 to 20000"},
      {"NoBraking", kind, "braking_ms2 = 0.4", "braking_ms2 = @0",
       "'braking_ms2' is 0; expected a value above 0, up to 2"},
      {"StockNotAList", kind, "stock = [\"stock.toml\"]", "stock = @\"stock.toml\"",
       "'stock' is text; expected a list of texts in [ ]"},
      {"StockMissing", kind, "stock = [\"stock.toml\"]\n", "", "key 'stock' is missing"},
      {"ConsentForOne", kind, "number = 2", "number = @1",
       "'number' is 1; expected a value from 2 to 16"},
      {"ConsentAtNoDistance", kind, "distance_m = 7.5", "distance_m = @0",
       "'distance_m' is 0; expected a value above 0, up to 1000"},
      {"ConsentForNoSection", kind, "sections = [\"a1\"]", "sections = @[]",
       "'sections' is empty; leave it out for the whole route"},
      {"ConsentWithoutReference", kind, "reference = \"NV-1\"\n", "", "key 'reference' is missing",
       "[[consent]]"},
      {"HighVoltageLineToNoVehicle", kind, "[[consent]]",
       "[[high_voltage_line]]\nvehicles = @[1, 2]\n[[consent]]",
       "there is no vehicle 2; the train has 1"},
      {"HighVoltageLineOfOne", kind, "[[consent]]",
       "[[high_voltage_line]]\nvehicles = @[1]\n[[consent]]",
       "a high-voltage line joins at least two vehicles"},
      {"HighVoltageLineTwiceToOne", kind, "[[consent]]",
       "[[high_voltage_line]]\nvehicles = @[1, 1]\n[[consent]]", "the same vehicle is named twice"},
      {"HighVoltageLineOverAVehicle", kind, "[[consent]]",
       "[[consist]]\nvehicle = \"m10\"\nleading_cab = 1\n[[consist]]\nvehicle = \"m10\"\n"
       "leading_cab = 1\n[[high_voltage_line]]\nvehicles = @[3, 1]\n[[consent]]",
       "a high-voltage line joins vehicles that follow each other, without leaving one out"},
      {"HighVoltageLineWithoutVehicles", kind, "[[consent]]",
       "@[[high_voltage_line]]\ncan_be_opened = true\n[[consent]]",
       "key 'vehicles' is missing: the numbers of those it joins"},
      {"ConsistAsNumber", kind, "[[consent]]", "[[@consents]]",
       "unknown key 'consents'; did you mean 'consent'?"},
  };
}

}  // namespace panup
