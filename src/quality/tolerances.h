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
  double span_length_m = 0;  ///< by which a support may stand away from its place
};

Tolerances tolerances_of(const Rule& rule);
std::vector<std::string> in_words(const Tolerances& tolerances);

/// A line and pantographs as they may be found.
struct Sample {
  ContactLine line;
  std::vector<RunningPantograph> pantographs;
};

/// Sample `number` of the series `seed`. Every figure is drawn by itself, evenly over its
/// tolerance: the tension of contact wire and messenger wire, each dropper's length, each inner
/// support's place (droppers keep their share of the span), each pantograph's static force. Same
/// arguments, same sample, on every machine. The messenger wire of the line is built for the
/// tension of its data, and hangs at that of the sample.
Sample draw_sample(const ContactLine& line, const std::vector<RunningPantograph>& pantographs,
                   const Tolerances& tolerances, std::uint64_t seed, std::uint64_t number);

}  // namespace panup
