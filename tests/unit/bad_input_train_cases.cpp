#include "bad_input_cases.h"

namespace panup {

namespace {

std::string locomotives(int number) {
  std::string text;
  for (int i = 0; i < number; ++i) {
    text += "[[consist]]\nvehicle = \"k41\"\nleading_cab = 1\n";
  }
  return text;
}

}  // namespace

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
      {"OrderedUpAndDown", kind, "defective_pantographs = [2]",
       "kept_down_pantographs = [1]\nkept_up_pantographs = @[1]",
       "pantograph 1 is ordered up and down"},
      {"DefectiveOneOrderedUp", kind, "defective_pantographs = [2]",
       "defective_pantographs = [2]\nkept_up_pantographs = @[2]",
       "pantograph 2 is defective and stays down; leave it out here, or out of "
       "'defective_pantographs'"},
      {"OneOfAVehicleDeadInTowOrderedUp", kind, "defective_pantographs = [2]",
       "dead_in_tow = true\nkept_up_pantographs = @[1]\n[[consist]]\nvehicle = \"k41\"\n"
       "leading_cab = 1",
       "the vehicle is dead in tow and its pantographs stay down; leave out "
       "'kept_up_pantographs', or 'dead_in_tow'"},
      {"OrderForAPantographThatIsNotThere", kind, "defective_pantographs = [2]",
       "kept_down_pantographs = @[3]", "'k41' has no pantograph 3; it has 2"},
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
      {"TooManyPantographs", kind, "[[consent]]", locomotives(32) + "[[consent]]",
       "the train has 66 pantographs; at most 64 can be planned", "[[consist]]\nvehicle"},
      {"CurrentTwice", kind, "standstill_a = 20",
       "standstill_a = 20\n[[consist.current]]\nsystem = @\"AC 15 kV 16.7 Hz\"\nrunning_a = 1\n"
       "standstill_a = 1",
       "AC 15 kV 16.7 Hz is given twice"},
      {"NegativeCurrent", kind, "running_a = 500", "running_a = @-500",
       "'running_a' is -500; expected a value from 0 to 20000"},
      {"NoBraking", kind, "braking_ms2 = 0.4", "braking_ms2 = @0",
       "'braking_ms2' is 0; expected a value from 0.01 to 2"},
      {"NearlyNoBraking", kind, "braking_ms2 = 0.4", "braking_ms2 = @1e-308",
       "'braking_ms2' is 1e-308; expected a value from 0.01 to 2"},
      {"NearlyNoAcceleration", kind, "acceleration_ms2 = 0.15", "acceleration_ms2 = @1e-9",
       "'acceleration_ms2' is 1e-09; expected a value from 0.01 to 2"},
      {"StockNotAList", kind, "stock = [\"stock.toml\"]", "stock = @\"stock.toml\"",
       "'stock' is text; expected a list of texts in [ ]"},
      {"StockMissing", kind, "stock = [\"stock.toml\"]\n", "", "key 'stock' is missing"},
      {"ConsentForOne", kind, "number = 2", "number = @1",
       "'number' is 1; expected a value from 2 to 16"},
      {"ConsentAtNoDistance", kind, "distance_m = 7.5", "distance_m = @0",
       "'distance_m' is 0; expected a value above 0, up to 1000"},
      {"ConsentForNoSection", kind, "sections = [\"a1\"]", "sections = @[]",
       "'sections' is empty; leave it out for the whole route"},
      {"ConsentOverBeforeItBegins", kind, "sections = [\"a1\"]",
       "valid_from = 2031-05-02\nvalid_until = @2031-05-01",
       "'valid_until' is 2031-05-01, before 'valid_from', 2031-05-02; expected that day or a later "
       "one"},
      {"ConsentOfTheTrainForTrains", kind, "sections = [\"a1\"]", "@trains = [\"t1\"]",
       "unknown key 'trains'"},
      {"NoFileOfConsents", kind, "highest_speed_kmh = 100", "consents = @[]",
       "'consents' is empty; leave it out where there is no such file"},
      {"FileOfConsentsNotInAList", kind, "highest_speed_kmh = 100", "consents = @\"c.toml\"",
       "'consents' is text; expected a list of texts in [ ]"},
      {"ConsentWithoutReference", kind, "reference = \"NV-1\"\n", "", "key 'reference' is missing",
       "[[consent]]"},
      {"DayInQuotes", kind, "[[consent]]", "[release]\nholds_until = @\"2031-05-30\"\n[[consent]]",
       "'holds_until' is text; expected a day without a time, as in 2031-05-30, without quotes"},
      {"DayWithATime", kind, "[[consent]]",
       "[release]\nholds_until = @2031-05-30T12:00:00\n[[consent]]",
       "'holds_until' is not a day alone; expected a day without a time, as in 2031-05-30, without "
       "quotes"},
      {"TrainNumberWithoutQuotes", kind, "[[consent]]",
       "[release]\ntrain_number = @60412\n[[consent]]",
       "'train_number' is a whole number; expected text in quotes"},
      {"DateInQuotes", kind, "[[consent]]", "[release]\ndate = @\"12 May\"\n[[consent]]",
       "'date' is text; expected a day without a time, as in 2031-05-30, without quotes"},
      {"DateAndDays", kind, "[[consent]]",
       "[release]\ndate = 2031-05-12\ndays = @\"Mondays\"\n[[consent]]",
       "a train runs on one 'date' or on 'days', not both"},
      {"IssueInWords", kind, "[[consent]]", "[release]\nissue = @\"second\"\n[[consent]]",
       "'issue' is text; expected a whole number, without quotes"},
      {"IssueBeforeTheFirst", kind, "[[consent]]", "[release]\nissue = @0\n[[consent]]",
       "'issue' is 0; expected a value from 1 to 9999"},
      {"RunsAfterTheLastDay", kind, "[[consent]]",
       "[release]\ndate = 2031-06-01\nholds_until = @2031-05-30\n[[consent]]",
       "'holds_until' is 2031-05-30, and the train runs on 2031-06-01; expected that day or a "
       "later "
       "one"},
      {"UnknownKeyOfRelease", kind, "[[consent]]",
       "[release]\n@cheked_by = \"Ida Brandt\"\n[[consent]]",
       "unknown key 'cheked_by'; did you mean 'checked_by'?"},
      {"NobodyMadeIt", kind, "[[consent]]", "[release]\nmade_by = @\" \"\n[[consent]]",
       "'made_by' is empty"},
      {"TwoReleases", kind, "[[consent]]", "@[[release]]\nmade_by = \"Ida Brandt\"\n[[consent]]",
       "'release' is a list; expected one table, begun by [release]"},
      {"DeviationWithoutReason", kind, "[[consent]]",
       "@[[deviation]]\nwhat = \"80 km/h\"\nby = \"Ole Falk\"\n[[consent]]",
       "key 'reason' is missing"},
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
      {"ConsentMisspelt", kind, "[[consent]]", "[[@consnt]]",
       "unknown key 'consnt'; did you mean 'consent'?"},
      {"AConsentWhereFilesAreNamed", kind, "[[consent]]", "@[[consents]]",
       "'consents' is a table; expected text in quotes"},
  };
}

}  // namespace panup
