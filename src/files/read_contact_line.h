#pragma once

#include <optional>
#include <string>

#include "base/file_source.h"
#include "dynamics/contact_line.h"

namespace panup {

/// Reads a contact line and expands its shorthand: repeated spans, named supports and dropper
/// patterns, droppers by number. What is handed on hangs: its static state at the reference
/// temperature has been found. Nothing, and diagnostics, where anything is wrong.
std::optional<ContactLine> read_contact_line(const SourceText& source, Diagnostics& diagnostics);

/// The same of a file at a path.
std::optional<ContactLine> read_contact_line_file(const std::string& path, Diagnostics& diagnostics,
                                                  const FileSource& files = files_on_disk());

}  // namespace panup
