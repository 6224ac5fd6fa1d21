#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/handed_out.h"
#include "fitting/fit_record.h"

namespace panup {

/// A model fitted to a record, with all that is said of it when it is handed out.
struct FitReport {
  std::string record;  ///< its name
  std::string line;    ///< likewise
  bool invented = false;
  FitOutcome outcome;
  std::vector<std::string> runs_left_out;  ///< and why, one a run
  /// The contact line's file with the fitted values, and those of the pantographs; TOML that says
  /// where it comes from. Only what was fitted.
  std::vector<RenderedFile> files;
  std::vector<InputFile> inputs;
  std::string program_version;
  Words words = {};  ///< in which it is said
};

/// For a terminal: UTF-8, no colour, at most 100 columns, with the cautions.
std::string fit_to_text(const FitReport& report);

/// For scripts; fields in `docs/schema/fit.schema.json`.
nlohmann::ordered_json fit_to_json(const FitReport& report);

}  // namespace panup
