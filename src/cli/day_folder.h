#pragma once

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "cli/day_cards.h"
#include "day/day_table.h"

namespace panup {

/// The folder that a day is written to: while it is planned, a folder for each train with what
/// `panup plan --out` writes, and at the end the table, and all cards as one PDF in order of
/// departure. What an earlier day left for trains that have no plan now is taken away. Safe from
/// any thread.
class DayFolder {
 public:
  /// `kept_file`: a store that must not be written over; may be empty.
  DayFolder(std::string folder, const DayFile& day, const Words& words, std::string kept_file);

  /// A train has its plan.
  void made(std::size_t row, const std::shared_ptr<const RunPlan>& run);
  /// A train is done, with or without a plan.
  void done(std::size_t row) { cards_.done(row); }
  /// Whether writing has failed, so that to go on is of no use; it has been said then.
  bool failed() const { return status_ != 0; }
  /// The exit status of the failure.
  int status() const { return status_; }

  /// Writes what stands beside the folders; the exit status.
  int finish(const DayReport& report);
  /// How many trains have their folder.
  std::size_t written() const { return written_; }

 private:
  void withdraw_others();

  std::string folder_;
  const DayFile& day_;
  std::string kept_file_;
  std::atomic<int> status_ = 0;
  std::atomic<std::size_t> written_ = 0;

  DayCards cards_;
  std::mutex noting_;
  std::vector<char> has_folder_;  ///< by row
};

}  // namespace panup
