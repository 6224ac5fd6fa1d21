#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "failed/road_failure.h"

namespace panup {

/// The answer to a failure on the road, with what is said of it when it is handed out.
struct FailedReport {
  const DayFile* day = nullptr;
  std::size_t row = 0;
  RoadFailureAt failure;
  RunPlan run;  ///< from where the train stands
  std::vector<std::string> message;
  std::vector<TouchedTrain> touched;
  std::string program_version;
};

/// The message first, then the later trains.
std::string failed_to_text(const FailedReport& report);

/// The same for scripts, with the plan.
nlohmann::ordered_json failed_to_json(const FailedReport& report);

}  // namespace panup
