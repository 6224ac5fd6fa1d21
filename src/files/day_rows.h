#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "files/read_day.h"

namespace panup {

/// What rows of a day have in common, wherever they stand: numbers that are no two alike.
class DayNumbers {
 public:
  /// What is wrong with a train number, in words; empty where it may stand. Notes where it stands.
  std::string wrong_with(const std::string& number, const SourcePlace& place);

 private:
  std::map<std::string, SourcePlace, std::less<>> by_folder_;
};

/// What is wrong with a row that names a run, and a train or a route besides.
std::string run_and_more_text(std::string_view key);

/// What is wrong with a list of vehicle numbers, in words; empty where nothing is.
std::string wrong_with_vehicles(const std::vector<std::string>& vehicles);

/// Reads the rows of a table of trains, which the file of a day names. Mistakes have the place of
/// their cell.
void read_day_table(const SourceText& source, DayNumbers& numbers, std::vector<DayTrain>& trains,
                    Diagnostics& diagnostics);

}  // namespace panup
