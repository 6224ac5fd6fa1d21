#pragma once

#include <string>
#include <vector>

#include "cli/output_files.h"

namespace panup {

/// The file beside results that lists what the program wrote there: SHA-256 and name, line by line,
/// as `sha256sum` reads it. Several commands may write to one folder.
inline constexpr const char* written_list = "written.sha256";

/// Writes a result of numbered sheets, and the list of what was written, as `write_out` does. Then
/// removes `STEM-N.svg` and `STEM-N.png` of an earlier result that had more sheets, for one left
/// beside the new ones would be taken for theirs: only those that are still as the list says. Of
/// others it says that they do not belong to the result.
int write_sheets(const std::string& folder, const std::string& stem, std::vector<OutputFile> files,
                 const std::vector<std::string>& inputs, Told told = Told::all);

/// The same of a folder that is one result's alone: of earlier ones, nothing is left that is still
/// as the list says.
int write_whole_result(const std::string& folder, const std::string& stem,
                       std::vector<OutputFile> files, const std::vector<std::string>& inputs,
                       Told told = Told::all);

/// Removes a result that does not hold any more: what the list in a folder names and is still as
/// the list says, then the list, and the folder if it is empty then. Of what was changed since it
/// says that it is left. Nothing where the folder has no such list.
void withdraw_sheets(const std::string& folder);

}  // namespace panup
