#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "drawing/csv_table.h"
#include "issued/hand_out.h"
#include "issued/standing.h"

namespace panup {

/// What was issued of a day just now, with what is said of it.
struct IssueReport {
  const DayFile* day = nullptr;
  std::string register_path;
  HandedOut handed_out;
  std::vector<CardOfTrain> cards;
  bool invented = false;
  std::string program_version;
  Words words = {};  ///< in which the day is said
};

std::string issue_to_text(const IssueReport& report);
nlohmann::ordered_json issue_to_json(const IssueReport& report);

/// What a register holds, and how its cards stand against a day.
struct IssuedReport {
  std::string register_path;
  std::vector<Issue> issues;  ///< those that were asked for
  std::string last_checksum;  ///< of the whole register; empty where nothing is in it
  std::string date;           ///< of the day compared with; empty: none was
  std::vector<CardStanding> standings;
  bool invented = false;
  std::string program_version;
  Words words = {};  ///< in which it is said how cards stand; what was issued stays as it is
};

/// Whether a card that is out does not hold any more.
bool any_no_longer_holds(const IssuedReport& report);

std::string issued_to_text(const IssuedReport& report);
nlohmann::ordered_json issued_to_json(const IssuedReport& report);
/// The trail, one row an issue, and tables beside it: in what each differs from the one before, its
/// inputs, and where a day was asked of, how cards stand against it and why. They say what JSON
/// says, value by value.
std::vector<CsvTable> issued_tables(const IssuedReport& report);

/// "4711-2026-05-12-issue-3.pdf".
std::string card_file_name(const Issue& issue);

}  // namespace panup
