#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "drawing/csv_table.h"
#include "what_if/plan_what_if.h"

namespace panup {

/// A day and how it would be, with what is said of both when it is handed out.
struct WhatIfReport {
  const DayFile* day = nullptr;
  const WhatIf* what_if = nullptr;
  PlannedWhatIf planned;
  SpeedFrom speed_from = SpeedFrom::tables;
  std::vector<InputFile> inputs;  ///< of both days: what all trains share, and what is another way
  std::vector<std::string> rule_books;       ///< names, in order, of the day as it is
  std::vector<std::string> rule_books_then;  ///< and as it would be
  std::string program_version;
  Words words = {};  ///< in which both days are said
};

/// True where anything of either day is demo data.
bool invented(const WhatIfReport& report);

/// Trains by what becomes of them, in the order of `TrainFate`.
std::vector<std::size_t> counts_of(const WhatIfReport& report);

/// Running time that is longer, and that is shorter, summed over the trains that have one before
/// and then. Trains that have one only before or only then are not in it.
struct TimeLost {
  double longer_s = 0;
  double shorter_s = 0;
  std::size_t trains_longer = 0;
  std::size_t trains_without = 0;
};
TimeLost time_lost(const WhatIfReport& report);

/// Rows of the day by what becomes of the train, then departure (not stated: last), then number.
std::vector<std::size_t> desk_order(const WhatIfReport& report);

/// What is to be known of the comparison as a whole, one sentence each.
std::vector<std::string> what_if_notes(const WhatIfReport& report);

/// Whether any train changes; one that is not compared does where only one of its plans is missing.
bool any_change(const WhatIfReport& report);

/// For a terminal: how many trains change, what is lost, and a few lines for each that changes.
std::string what_if_to_text(const WhatIfReport& report);

/// The same for scripts; the fields stand in `docs/schema/day-what-if.schema.json`.
nlohmann::ordered_json what_if_to_json(const WhatIfReport& report);

/// One row a train, in the order of the desk; what changes in detail is counted.
CsvTable what_if_table(const WhatIfReport& report);

}  // namespace panup
