#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// What is left of a trace when it is thinned for a plot.
struct ThinnedTrace {
  struct OfPantograph {
    std::vector<double> at_m;
    std::vector<double> filtered_force_n;
    std::vector<double> contact_force_n;
  };
  std::vector<OfPantograph> pantographs;
};

inline constexpr std::size_t most_trace_points = 6000;

/// At most `most` rows for each pantograph, 4 at least. Of each of the even stretches that are
/// thinned the rows stay in which either force has its least and its greatest value, so that no
/// peak, no dip and no loss of contact is lost. Rows stay in order. A trace of no more rows is as
/// it was.
ThinnedTrace thinned_trace(const Trace& trace, std::size_t most = most_trace_points);

/// `{pantographs: [{at_m, filtered_force_n, contact_force_n}]}`, to a millimetre and a hundredth of
/// a newton.
nlohmann::ordered_json thinned_trace_to_json(const ThinnedTrace& trace);

}  // namespace panup
