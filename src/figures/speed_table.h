#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "drawing/csv_table.h"
#include "quality/speed_table.h"

namespace panup {

/// A contact line of a table, as it is told of.
struct ToldLine {
  std::string id;
  std::string name;
  std::string source;  ///< where its figures come from; may be empty
  bool invented = false;
  double wave_speed_kmh = 0;
  double temperature_c = 0;  ///< of the runs
};

/// A pantograph model of a table, as it is told of.
struct ToldPantograph {
  std::string id;
  std::string name;
  std::string source;  ///< likewise
  bool invented = false;
  double static_force_n = 0;
  std::vector<Knuckle> knuckles;
};

/// A table of permitted speeds with all that is said of it when it is handed out.
struct SpeedTableReport {
  std::string id;
  std::string name;
  bool invented = false;  ///< the table, or any line or pantograph
  SpeedTable table;
  std::vector<ToldLine> lines;
  std::vector<ToldPantograph> pantographs;
  std::optional<EnergySupply> supply;
  double up_to_kmh = 0;
  int samples = 0;
  int seed = 1;
  std::vector<InputFile> inputs;
  std::vector<std::string> rule_books;  ///< names, in order
  std::string program_version;
  Words words = {};  ///< in which it is said
};

/// What the reader has to know of it beside its figures, one sentence each.
std::vector<std::string> notes_of(const SpeedTableReport& report);

std::string speed_table_to_text(const SpeedTableReport& report);
nlohmann::ordered_json speed_table_to_json(const SpeedTableReport& report);
/// A line for each row, and a table of what is to be doubted of them. They say what the rows of
/// JSON say, value by value; whether data is invented stands in each line, for a line is soon taken
/// out of its table.
std::vector<CsvTable> speed_tables(const SpeedTableReport& report);
/// `speeds.csv`, `speeds-doubts.csv`, and what says what their columns are.
std::vector<RenderedFile> speed_table_csv_files(const SpeedTableReport& report);

}  // namespace panup
