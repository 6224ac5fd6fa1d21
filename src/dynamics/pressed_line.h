#pragma once

#include <vector>

#include "dynamics/contact_line.h"
#include "dynamics/statics.h"

namespace panup {

/// A head that is pressed up with a steady force.
struct PressedHead {
  double force_n = 0;
  double behind_first_m = 0;
};

/// Mean height of the contact wire over each head while all of them move along the line so slowly
/// that nothing swings: its height at rest and what the heads lift it, droppers slackening under
/// them. Over the stretch that each head sees between `from_m` and `to_m`; of spans that are alike,
/// one stands for all. Above the contact wire's height at its supports, as in `StaticPoint`.
///
/// What heads lift at each other's places is added up as if each were alone, and what the wire's
/// own bending stiffness takes from the lift, below a millimetre, is left out.
std::vector<double> mean_heights_pressed(const ContactLine& line, const StaticState& state,
                                         const std::vector<PressedHead>& heads, double from_m,
                                         double to_m);

}  // namespace panup
