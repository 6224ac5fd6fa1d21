#pragma once

#include <optional>

#include "dynamics/contact_line.h"

namespace panup {

/// What a wire of fixed termination hangs under: its load per length and its temperature.
struct ConductorState {
  double load_n_per_m = 0;
  double temperature_c = 0;
};

/// Tension of a wire of fixed termination in a new state, from its tension in an old one, by the
/// state-change equation for spans of equal height, parabolic sag and ruling span `span_m`:
///
///     T³ + T² [ E A w₀² a² / (24 T₀²) + E A ε (θ − θ₀) − T₀ ] = E A w² a² / 24
///
/// Its one positive root. Nothing where axial stiffness or thermal expansion are not known.
/// Source: Kiessling, Nefzger, Nolasco, Kaintzyk, Overhead Power Lines (from memory).
std::optional<double> tension_after(const Wire& wire, const ConductorState& before,
                                    const ConductorState& after, double span_m);

/// Ruling span of unequal spans: √(Σ a³ / Σ a). Source: the same (from memory).
double ruling_span(const ContactLine& line);

}  // namespace panup
