#pragma once

#include <functional>
#include <optional>
#include <string>

#include "cli/commands.h"
#include "day/plan_day.h"

namespace panup {

/// What `panup day --if` is asked for.
struct WhatIfOptions {
  CommonOptions common;
  std::string day;      ///< path of the day
  std::string what_if;  ///< path of what may be another way
  std::string out;      ///< folder; empty: nothing is written
  std::string store;    ///< of answers; empty: none are kept
  /// Called when the plans are made, or were stopped: takes the progress off the terminal. An exit
  /// status where this process has nothing more to say.
  std::function<std::optional<int>(bool stopped)> planned;
};

/// Plans the day as it is and as it would be, and says what becomes of its trains; the exit status.
/// `request`: for the day as it is, with all that planning takes. `inputs`: what it was read from.
int run_what_if(const WhatIfOptions& options, const DayRequest& request,
                const SharedByTrains& shared, std::vector<InputFile> inputs);

}  // namespace panup
