#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "files/kept_values.h"
#include "register_rows/network_changes.h"
#include "register_rows/touched_runs.h"

namespace panup {

/// What is told where a network was made and one is there already.
struct ChangesReport {
  NetworkChanges changes;
  std::vector<KeptValue> kept = {};     ///< what of it stays, for it comes from elsewhere
  std::vector<KeptTable> by_hand = {};  ///< tables of it that stay, for somebody added them
  std::optional<RunsTouched> runs;      ///< none: nobody asked for trains
  bool written = false;                 ///< the new network has taken the place of the other
};

/// For a terminal: what the register says else, what was stated by hand and is lost, whose way it
/// touches.
std::string changes_to_text(const ChangesReport& report);

/// The same for scripts (docs/register.md).
nlohmann::ordered_json changes_to_json(const ChangesReport& report);

}  // namespace panup
