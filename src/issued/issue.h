#pragma once
/// The room `issued`: cards that were handed out. An office that hands out a driver's card has to
/// know afterwards which one, made of what, by whom, to whom, until when it holds; and when
/// something of the day changes, which cards are still right. `issue_register.h` keeps each issued
/// card in one file to which things are only added; `hand_out.h` issues the cards of a day's plans;
/// `standing.h` says which of them still hold; `issued_table.h` shows both.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "day/day.h"
#include "day/train_change.h"
#include "day/train_reading.h"

namespace panup {

/// Who answers for a card, until when it holds, and to whom it goes. What is not stated is empty.
struct HandedOut {
  std::string at;  ///< UTC, as 2026-05-12T03:10:00Z
  std::string to;
  std::string made_by = {};
  std::string checked_by = {};
  std::string released_by = {};
  std::string holds_until = {};  ///< the last day, as YYYY-MM-DD
};

/// An issued card, but for its large parts.
struct Issue {
  std::int64_t place = 0;  ///< in the register, from 1
  std::string train_number;
  std::string day;  ///< it runs, as YYYY-MM-DD
  int number = 1;   ///< of the issue, counted for this train number and day
  HandedOut handed_out;
  std::string train_name;
  std::string route_name;
  std::string decision;  ///< `name_of(Decision)`
  std::string answer;    ///< of the plan, in a sentence
  /// In what it differs from the issue before, one sentence each; empty of the first.
  std::vector<std::string> different;
  std::vector<InputFile> inputs;
  std::string program_version;
  std::string card_sha256;  ///< of the PDF
  std::string checksum;     ///< over all this and the checksum of the one before it
};

/// What a card was made from and is compared by.
struct IssuedPlan {
  TrainOutcome outcome;
  TrainReading reading;
  std::string plan_json;  ///< as of `panup plan --format json`, or of `--run` of several parts
  std::string card_pdf;
};

/// What is handed to the register to be kept.
struct NewIssue {
  HandedOut handed_out;
  std::vector<std::string> different;
  std::vector<InputFile> inputs;
  std::string program_version;
  IssuedPlan plan;
};

}  // namespace panup
