#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "day/plan_day.h"
#include "files/read_day.h"

namespace panup {

/// What of a day is planned for commands that go on from its plans.
struct WholeDayOptions {
  std::string day;                   ///< path
  std::vector<std::string> numbers;  ///< the trains; empty: all
  std::string store;                 ///< where answers are kept; empty: nowhere
  int jobs = 0;
  Words words = {};         ///< in which it is said
  bool with_plans = false;  ///< every train is planned; else its answer will do
};

struct WholeDay {
  DayFile day;  ///< with the trains that were asked for
  PlannedDay planned;
  std::vector<std::shared_ptr<const RunPlan>> plans;  ///< null: has none; empty unless asked for
  std::vector<InputFile> inputs;  ///< the day, its table, and what all trains share
  bool invented = false;
  int status = 0;  ///< the worst of the trains that have no plan, their mistakes being printed
};

/// Opens the store of answers that was named; none where none was. False, and said why, where it
/// cannot be used.
bool open_answers(const std::string& path, std::optional<KeptAnswers>& answers);

/// Reads and plans the day. Nothing, and said why on standard error, where it cannot be read, or
/// was stopped; `status` is the exit status then.
std::optional<WholeDay> plan_whole_day(const WholeDayOptions& options, int& status);

}  // namespace panup
