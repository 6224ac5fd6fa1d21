#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quality/permitted_speed.h"

namespace panup {

// What envelopes and tables say of permitted speeds alike.

/// "at 117 km/h pantograph 2, standard deviation … (force-deviation)"
std::string deciding_words(const PermittedSpeed& speed, const Words& words);

/// "120", or "none".
std::string speed_figure_or_none(double speed_kmh, const Words& words);

/// "leading", "trailing", as in JSON.
std::string_view name_of(Knuckle knuckle);
/// The same as it is said.
std::string knuckle_word(Knuckle knuckle, const Words& words);
/// "knuckle leading or trailing, whichever is worse"
std::string knuckle_words(const std::vector<Knuckle>& knuckles, const Words& words);

/// "in steps of 10 km/h, closer where margins are small"
std::string step_words(double step_kmh, const Words& words);
/// How far the permitted speed and the first that fails may lie apart, with a space before it;
/// empty for 0.
std::string edge_words(double edge_error_kmh, const Words& words);

/// Where the figures of a line or a pantograph come from.
std::string source_note(const std::string& name, const std::string& source, const Words& words);
/// Of permitted speeds at several distances.
std::string only_these_distances_note(const Words& words);
/// What follows from so many being decided by a run in a longer step: `decided` says how many, and
/// that it is more than such a run is off.
std::string coarse_note(const std::string& decided, const Words& words);
/// What a computed result is not.
void add_closing_notes(std::vector<std::string>& notes, const Words& words);

}  // namespace panup
