#pragma once

#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "base/handed_out.h"
#include "dynamics/contact_line.h"
#include "dynamics/simulate.h"
#include "figures/measured.h"
#include "records/measured_record.h"
#include "rules/rule_book.h"

namespace panup {

/// A record of measured contact force, as its file says it is, with what that file names. The rows
/// are not read yet.
struct MeasuredInput {
  MeasuredRecord record;
  std::optional<ContactLine> line;      ///< where the record names one
  std::vector<PantographModel> models;  ///< one a pantograph, or none
  std::string not_simulated;            ///< what is missing for a simulation; else empty
  RuleBook rules;
  std::vector<InputFile> files;
};

/// Reads all files but the rows; its rule book is in the language of `words`, in which all that
/// comes of it is said. Nothing, and at least one diagnostic, if anything is wrong.
std::optional<MeasuredInput> read_measured_input(const std::string& record,
                                                 const std::vector<std::string>& rules,
                                                 const FileSource& files, Diagnostics& diagnostics,
                                                 const Words& words = {});

/// A file of rows, open to be read; nothing, and a diagnostic, where it cannot be.
std::optional<std::ifstream> open_rows(const std::string& path, Diagnostics& diagnostics);

/// The pantographs of a simulation; empty where there is none, and `why_not` says why.
std::vector<RunningPantograph> simulated_pantographs(const MeasuredInput& input,
                                                     std::string& why_not);

/// Reads the rows, evaluates and judges them, and simulates what the record can be set beside.
/// Nothing, and at least one diagnostic, where rows are wrong.
std::optional<MeasuredReport> evaluate_record(const MeasuredInput& input,
                                              std::string_view program_version,
                                              Diagnostics& diagnostics);

}  // namespace panup
