#pragma once

#include <optional>
#include <string>

#include "base/file_source.h"
#include "records/measured_record.h"

namespace panup {

/// Reads what a record of measured contact force is said to be; its rows stand in files of their
/// own and are not looked at. Paths come back as seen from this file's folder. Nothing, and
/// diagnostics, where anything is wrong.
std::optional<MeasuredRecord> read_measured_record(const SourceText& source,
                                                   Diagnostics& diagnostics);

/// The same of a file at a path.
std::optional<MeasuredRecord> read_measured_record_file(const std::string& path,
                                                        Diagnostics& diagnostics,
                                                        const FileSource& files = files_on_disk());

}  // namespace panup
