#pragma once

#include "dynamics/simulate.h"
#include "dynamics/statics.h"

namespace panup {

/// No step that is chosen is shorter: a run would take too long.
inline constexpr double shortest_chosen_step_s = 0.0001;

/// The longest step with which the figures of a run are trusted as they are, up to the default one.
/// Contact force follows a wire of impedance Z = 2 √(T m′) within Z/k: a step of more than 0.7 of
/// that time makes the head chatter on the wire. It is no shorter than `shortest_chosen_step_s`.
double step_by_contact(const SimulationRequest& request, const ContactLine& line,
                       const StaticState& state);

/// Whether a run in this step may be wrong without showing it: contact, droppers or springs of a
/// pantograph are stiffer than it can follow. Such a run is held against one in a shorter step.
bool is_doubtful(const SimulationRequest& request, const ContactLine& line,
                 const StaticState& state, double step_s);

/// Whether so much of a run's energy is missing that it may be wrong.
bool is_doubtful(const EnergyBalance& energy);

/// Where the figures that decide differ between two runs by more than a shorter step may change
/// them, in words; nothing where they stand still.
std::optional<Sentence> moved_figures(const SimulationResult& before,
                                      const SimulationResult& after);

}  // namespace panup
