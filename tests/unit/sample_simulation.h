#pragma once

#include "figures/simulation.h"

namespace panup {

/// A run of so many pantographs on an invented line, with its history; 20 m apart, front first.
SimulationReport sample_simulation(int pantographs);

/// Where so much is out of order that every part of a text and a drawing comes into play: long
/// names, contact losses, slack droppers, ice, warnings, a negative statistical minimum.
SimulationReport rough_simulation();

/// An invented line with stitch wires at rest, with elasticity along all spans.
StaticReport sample_statics();

/// A line of fixed termination on a cold, iced day, with two droppers gone slack.
StaticReport rough_statics();

}  // namespace panup
