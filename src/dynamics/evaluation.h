#pragma once

#include <span>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// Cut-off of the contact force filter, −3 dB. Source: EN 50317 and EN 50318 (from memory).
inline constexpr double contact_force_cutoff_hz = 20;

/// Low-pass filter for contact forces: Butterworth of sixth order, run forwards and backwards, so
/// that no phase is shifted; its cut-off is set so that both passes together are 3 dB down at
/// `cutoff_hz`. The bilinear transform is prewarped at the cut-off. Each pass starts from the
/// steady state of its first value.
///
/// The step must be below a fifth of the cut-off's period; there are at least two values.
std::vector<double> low_pass(std::span<const double> values, double step_s, double cutoff_hz);

/// Mean, standard deviation (of the whole, not of a sample), statistical and actual extremes and
/// histogram of `filtered` and contact losses of `raw`, where a force of 0 is a loss; both of equal
/// size and not empty. `position_m` and head heights are left as they are.
PantographRun evaluate(std::span<const double> raw, std::span<const double> filtered,
                       double step_s);

}  // namespace panup
