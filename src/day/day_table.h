#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "base/words.h"
#include "day/day.h"
#include "day/plan_day.h"
#include "drawing/csv_table.h"

namespace panup {

/// A planned day with what is said of it when it is handed out.
struct DayReport {
  const DayFile* day = nullptr;
  std::vector<std::optional<TrainOutcome>> outcomes = {};  ///< by the day's trains
  /// By the day's trains: what has changed since it was shown last; empty where answers are not
  /// kept.
  std::vector<std::optional<ChangeSinceShown>> since_shown = {};
  SpeedFrom speed_from = SpeedFrom::tables;
  std::vector<InputFile> inputs = {};  ///< the day, its table, and what all trains share
  std::vector<std::string> registered_vehicles = {};  ///< that the registers of defects name
  std::vector<std::string> rule_books = {};           ///< names, in order
  std::string program_version = {};
  Words words = {};  ///< in which its outcomes are said
};

/// "05:40"; with seconds where it is not on the minute; empty where it is not stated.
std::string departure_words(const DayTrain& train);

/// "Petrol to Port Selmo, harl-port-selmo"; where nothing was read, the file.
std::string train_words(const DayTrain& train, const TrainOutcome& outcome);

/// True where the day, or anything of a train of it, is demo data.
bool invented(const DayReport& report);

/// Trains by decision, in the order of `Decision`.
std::vector<std::size_t> counts_of(const DayReport& report);

/// What is to be known of the day as a whole, one sentence each.
std::vector<std::string> day_notes(const DayReport& report);

/// The table for a terminal: one line a train in the order of the desk, then for each train that
/// needs a decision what and why, and for each that has changed in what; then notes and cautions.
std::string day_to_text(const DayReport& report);

/// The same for scripts; the fields stand in `docs/schema/day.schema.json`.
nlohmann::ordered_json day_to_json(const DayReport& report);

/// A train of it, as it stands there.
nlohmann::ordered_json day_train_to_json(const DayTrain& train, const TrainOutcome& outcome);

/// One row a train, in the order of the desk, and tables beside it of what a train has several of:
/// vehicles, findings, consents, defects, mistakes. They say what JSON says, value by value, but
/// for what has changed in detail since it was last shown.
std::vector<CsvTable> day_tables(const DayReport& report);

/// The first of them.
std::string day_to_csv(const DayReport& report);

}  // namespace panup
