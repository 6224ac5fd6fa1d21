#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/file_source.h"
#include "base/handed_out.h"
#include "figures/speed_table.h"
#include "files/read_speed_table.h"
#include "quality/speed_table.h"

namespace panup {

/// What a table of permitted speeds is computed from, with the files.
struct SpeedTableInput {
  SpeedTableJob job;
  std::vector<ContactLine> lines;            ///< as the job names them
  std::vector<TablePantograph> pantographs;  ///< likewise
  RuleBook rules;
  std::vector<InputFile> files;
};

/// Reads the file of a table and all that it names, so that the mistakes of all are seen at once,
/// and those between them; what comes of it is said in the language of `words`. Nothing, and at
/// least one diagnostic, if anything is wrong.
std::optional<SpeedTableInput> read_speed_table_input(const std::string& path,
                                                      const std::vector<std::string>& rules,
                                                      const FileSource& files,
                                                      Diagnostics& diagnostics,
                                                      const Words& words = {});

/// The input must outlive it.
SpeedTableRequest request_of(const SpeedTableInput& input);

/// The table with what is said of it when it is handed out.
SpeedTableReport report_of(const SpeedTableInput& input, SpeedTable table,
                           std::string_view program_version);

}  // namespace panup
