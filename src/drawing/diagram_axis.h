#pragma once

#include <string>
#include <vector>

#include "base/words.h"
#include "drawing/canvas.h"

namespace panup {

/// A range of values with round ticks. `to` is above `from`, both are finite.
struct Axis {
  double from = 0;
  double to = 1;
  std::vector<double> ticks;  ///< rising, within the range
  int decimals = 0;           ///< that the ticks need

  double span() const { return to - from; }
};

/// An axis that ends at round ticks on both sides and holds both values; its ticks are 1, 2 or 5
/// times a power of ten apart, and at most `most_ticks` (at least 3). Values that are no numbers
/// count as 0; equal ones are given room.
Axis round_axis(double least, double greatest, int most_ticks);

/// An axis of just this range, with at most `most_ticks` round ticks within it. No tick where none
/// is round.
Axis axis_within(double from, double to, int most_ticks);

/// A tick as a language writes it, with a minus sign: "−20", "0.5".
std::string tick_words(const Axis& axis, double value, const Words& words = {});

/// Where labels of one height go when they are wanted at these places (of their middles) and must
/// not touch: moved by as little as their order and the room between `from` and `to` allow. Where
/// there is no room for all, they stand evenly, and touch.
std::vector<double> spread(const std::vector<double>& wanted, double height, double from,
                           double to);

/// A line of many points as it can be told apart: of the points in each strip `width` wide, the
/// first, the lowest, the highest and the last stay. Points come by rising x.
std::vector<Point> thinned(const std::vector<Point>& points, double width);

}  // namespace panup
