#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "dynamics/simulate.h"
#include "rules/rule_book.h"

namespace panup {

/// What a line and its pantographs may differ by from their data, either way.
struct Tolerances {
  double tension_share = 0;
  double dropper_length_m = 0;
  double static_force_n = 0;
  double span_length_m = 0;            ///< by which a support may stand away from its place
  double support_stiffness_share = 0;  ///< of the messenger supports
  double damping_share = 0;            ///< of both factors of the wires' damping
  double steady_arm_mass_share = 0;
  double aerodynamic_share = 0;  ///< of the pantographs' aerodynamic factor
};

Tolerances tolerances_of(const Rule& rule);
std::vector<std::string> in_words(const Tolerances& tolerances, const Words& words);

/// A line and pantographs as they may be found.
struct Sample {
  ContactLine line;
  std::vector<RunningPantograph> pantographs;
};

/// Sample `number` of the series `seed`. Every figure is drawn by itself, evenly over its
/// tolerance: the tension of contact wire and messenger wire, each dropper's length, each inner
/// support's place (droppers keep their share of the span), each pantograph's static force; and,
/// all along the line alike, the stiffness of its messenger supports, its damping, the mass of its
/// steady arms and the pantographs' aerodynamic factor. Same arguments, same sample, on every
/// machine. The messenger wire of the line is built for the tension of its data, and hangs at that
/// of the sample.
Sample draw_sample(const ContactLine& line, const std::vector<RunningPantograph>& pantographs,
                   const Tolerances& tolerances, std::uint64_t seed, std::uint64_t number);

}  // namespace panup
