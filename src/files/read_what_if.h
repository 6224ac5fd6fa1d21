#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/file_source.h"
#include "files/read_speed_table.h"
#include "files/read_train.h"

namespace panup {

/// A file in the place of which another one is read.
struct FileInPlace {
  FileNamed file;
  FileNamed by;
};

/// What of a day may be another way than it is planned: the paths are as seen from where the
/// program runs. At least one thing is.
struct WhatIf {
  std::string name;
  bool invented = false;
  std::optional<FileNamed> conditions;  ///< in place of the day's, and of those of single trains
  std::vector<FileNamed> rules;         ///< books after the day's, in order
  std::vector<FileNamed> consents;      ///< besides the day's
  std::vector<FileNamed> defects;       ///< besides the day's
  std::vector<FileInPlace> replaced_files;
  std::vector<ReplacedClass> replaced_classes;
};

/// Reads a file of kind "what if"; no file that it names is looked at. Nothing, and diagnostics,
/// where anything is wrong.
std::optional<WhatIf> read_what_if(const SourceText& source, Diagnostics& diagnostics);

/// The same of a file at a path.
std::optional<WhatIf> read_what_if_file(const std::string& path, Diagnostics& diagnostics,
                                        const FileSource& files = files_on_disk());

/// Every file that it names.
std::vector<FileNamed> files_named_by(const WhatIf& what_if);

}  // namespace panup
