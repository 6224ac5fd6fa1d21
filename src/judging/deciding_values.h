#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "judging/judged_case.h"
#include "line/route.h"
#include "rules/finding.h"
#include "stock/train.h"

namespace panup {

/// The values of the input that findings rest on, with where they come from. Those of a section
/// have their source filled in by whoever knows which section it is (`name_sections`).

DecidingValue value_of_section(const JudgedCase& judged, std::string key);
DecidingValue value_of(const PantographType& type, std::string key, const Words& words);
DecidingValue value_of(const VehicleType& type, std::string key, const Words& words);
DecidingValue value_of(const SeparationSection& separation, std::string key, const Words& words);
DecidingValue value_of(const LowPlace& place, std::string key, const Words& words);

/// Of what makes a pantograph of a type fit for a section, or not, by a rule of this kind: what
/// both state of it.
std::vector<DecidingValue> values_of_fit(RuleKind kind, const LineProperties& section,
                                         const std::string& section_id, const PantographType& type,
                                         const Words& words);

/// Of the places of all raised pantographs: the roofs and lengths of the vehicles from the foremost
/// of them to the rearmost.
std::vector<DecidingValue> values_of_distances(const JudgedCase& judged);

}  // namespace panup
