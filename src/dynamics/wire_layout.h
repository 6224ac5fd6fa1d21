#pragma once

#include <vector>

#include "dynamics/contact_line.h"

namespace panup {

/// A dropper and what it hangs from.
struct HungDropper {
  int span = 0;
  double at_m = 0;
  const Dropper* dropper = nullptr;
  int stitch = -1;  ///< support whose stitch wire carries it, or −1
};

/// The line laid out along the track, with the places where its wires have nodes. All by chainage
/// along the line, and rising.
struct WireLayout {
  std::vector<double> supports;
  std::vector<HungDropper> droppers;  ///< in order along the track
  std::vector<double> points;         ///< asked for; not all have nodes of their own
  std::vector<double> contact_places;
  std::vector<double> messenger_places;
};

/// Sorts places along a wire; of those that are the same but for rounding, one stays.
void sort_places(std::vector<double>& places);

/// Whether a stitch wire is fitted at a support: none is at the line's two ends.
bool has_stitch_wire(const ContactLine& line, std::size_t support);

/// With `points_per_span` points, 2 or more, evenly in each span, ends included. A point less than
/// a millimetre from a dropper, support or clamp has no node of its own; the nearest stands for it.
WireLayout lay_out(const ContactLine& line, int points_per_span);

}  // namespace panup
