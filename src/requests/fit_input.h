#pragma once

#include <optional>
#include <string>
#include <vector>

#include "figures/fitted.h"
#include "requests/measured_input.h"

namespace panup {

/// Fits quantities of the contact line and pantographs that a record names, from what their files
/// say. What is wrong with rows is added to `diagnostics`, what a fit lacks to `mistakes`; nothing
/// where there is either.
std::optional<FitReport> fit_measured(const MeasuredInput& input,
                                      const std::vector<ModelInput>& quantities, int jobs,
                                      std::string_view program_version, const FileSource& files,
                                      Diagnostics& diagnostics, std::vector<std::string>& mistakes);

}  // namespace panup
