#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// A history is told in at most so many points.
inline constexpr std::size_t most_trace_points = 6000;

/// Of a long history, the points to be told: of each of equal stretches, those where either force
/// is least or greatest, so that no peak is lost. All, where they are few enough.
std::vector<std::size_t> told_points(const Trace::OfPantograph& history, std::size_t most);

/// Contact force over the line, filtered and as it is.
nlohmann::ordered_json trace_to_json(const Trace& trace);

}  // namespace panup
