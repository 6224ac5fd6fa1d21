#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/day_cards.h"
#include "cli/day_folder.h"
#include "cli/output_files.h"
#include "day/plan_day.h"

namespace panup {

/// Where the plans of a day go while they are made: into a folder, into one PDF of cards, or
/// nowhere. Safe from any thread.
class DayOutput {
 public:
  /// `store`: a file that must not be written over; may be empty.
  explicit DayOutput(std::string store) : store_(std::move(store)) {}

  /// Not to be moved afterwards: the request refers to it.
  void into_folder(const std::string& folder, DayRequest& request);
  void into_cards(const FilePlace& place, DayRequest& request);

  void done(std::size_t row);
  /// Whether writing has failed, so that to go on is of no use; it has been said then.
  bool failed() const { return folder_ && folder_->failed(); }
  /// The exit status of the failure.
  int status() const { return folder_->status(); }
  /// Trains whose folders are whole; nothing where no folder is written.
  std::optional<std::size_t> folders_written() const;

  /// Writes what is written at the end; the exit status.
  int finish(const DayReport& report);

 private:
  int write_cards(const DayReport& report);

  std::string store_;
  std::optional<DayFolder> folder_;
  std::optional<DayCards> cards_;
  FilePlace cards_place_;
};

}  // namespace panup
