#pragma once
/// Where a train may stand: stretches of wire on which no collector head may rest, and the places
/// of the front of the train that keep all of them off.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "judging/facts/separation.h"
#include "line/route.h"

namespace panup {

/// A stretch of wire on which no collector head may stand.
struct NoStandingStretch {
  std::string words;  ///< what it is, as in "the neutral zone of the Mosk phase separation"
  double from_km = 0;
  double to_km = 0;
};

/// Of separation sections: each zone that is not live, each overlap and each insulator, where zones
/// are stated, else the whole section; and the section insulators. By where they begin.
std::vector<NoStandingStretch> no_standing_stretches(const Route& route, const Words& words = {});

/// A collector that may come to stand where none may.
struct BadStand {
  std::size_t collector = 0;  ///< index
  std::size_t stretch = 0;    ///< index
};

/// What may happen if the train stops with its front at `front_km`, or up to `short_m` before it.
/// Strips that just reach a stretch count as in it.
std::vector<BadStand> bad_stands(std::span<const NoStandingStretch> stretches,
                                 std::span<const Collector> collectors, double front_km,
                                 double short_m);

/// How many whole metres before `front_km` the train has to stop for all collectors to be clear of
/// all stretches, the least that will do; nothing where that is more than `most_m`.
std::optional<int> clear_before_m(std::span<const NoStandingStretch> stretches,
                                  std::span<const Collector> collectors, double front_km,
                                  double short_m, int most_m);

}  // namespace panup
