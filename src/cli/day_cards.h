#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "card/card.h"
#include "files/read_day.h"
#include "plan/run_plan.h"

namespace panup {

/// The cards of a day as one PDF, in order of departure, drawn while the day is planned. Safe from
/// any thread.
class DayCards {
 public:
  DayCards(const DayFile& day, const Words& words);

  /// A train has its plan; its card shows each part of its way.
  void made(std::size_t row, const std::shared_ptr<const RunPlan>& run);
  /// A train is done, with or without a plan.
  void done(std::size_t row);

  /// How many cards there are.
  std::size_t count() const { return count_; }
  /// The document, when all trains are done. Not to be asked for where there is no card.
  std::string finish() { return cards_.finish(); }

 private:
  std::mutex collecting_;
  CardBook cards_;
  std::vector<std::size_t> place_of_row_;                          ///< in order of departure
  std::map<std::size_t, std::shared_ptr<const RunPlan>> waiting_;  ///< by place; null: no plan
  std::map<std::size_t, std::shared_ptr<const RunPlan>> made_;     ///< by row, until it is done
  std::size_t next_ = 0;                                           ///< place of the next card
  std::size_t count_ = 0;
};

}  // namespace panup
