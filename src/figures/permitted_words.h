#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quality/permitted_speed.h"

namespace panup {

// What envelopes and tables say of permitted speeds alike.

/// "at 117 km/h pantograph 2, standard deviation … (force-deviation)"
std::string deciding_words(const PermittedSpeed& speed);

/// "120", or "none".
std::string speed_figure_or_none(double speed_kmh);

/// "leading", "trailing"
std::string_view name_of(Knuckle knuckle);
/// "knuckle leading or trailing, whichever is worse"
std::string knuckle_words(const std::vector<Knuckle>& knuckles);

/// "in steps of 10 km/h, closer where margins are small"
std::string step_words(double step_kmh);
/// How far the permitted speed and the first that fails may lie apart, with a space before it;
/// empty for 0.
std::string edge_words(double edge_error_kmh);

/// Where the figures of a line or a pantograph come from.
std::string source_note(const std::string& name, const std::string& source);
/// Of permitted speeds at several distances.
std::string only_these_distances_note();
/// How many were decided by a run in a longer step; `what` and `line` as in "12 of 40 cells" and
/// "this line".
std::string coarse_note(std::string_view what, std::string_view line);
/// What a computed result is not.
void add_closing_notes(std::vector<std::string>& notes);

}  // namespace panup
