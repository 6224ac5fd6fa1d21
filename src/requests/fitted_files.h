#pragma once

#include <string>
#include <vector>

#include "base/file_source.h"
#include "base/handed_out.h"
#include "fitting/fit_record.h"
#include "requests/measured_input.h"

namespace panup {

/// The contact line's file with the values that were fitted, and those of the pantograph models
/// where something of them was: as they were, but for these values and `id`, `name` and `source`,
/// which say where they come from. Named by the new ids. None where nothing was told.
std::vector<RenderedFile> fitted_files(const MeasuredInput& input, const FitOutcome& outcome,
                                       std::string_view program_version, const FileSource& files);

}  // namespace panup
