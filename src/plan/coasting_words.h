#pragma once

#include <string>

#include "judging/facts/coasting.h"
#include "judging/facts/separation.h"
#include "plan/planning_case.h"
#include "plan/powerless.h"

namespace panup {

/// A stretch without power and the train on it: what the texts of findings are written from.
struct CoastingPassage {
  const PlanningCase& planning;
  const PowerlessStretch& stretch;
  std::size_t piece = 0;  ///< the one with the breaker-off place
  PantographSet defective;
  const RaisedCollectors& raised;  ///< what is up in it; empty where all are down
};

/// How it runs through, with the least speed that would do, in km/h.
std::string running_words(const CoastingPassage& passage, const CoastingRun& run, double least_kmh);
/// That it may come to a stand, and what then.
std::string standing_words(const CoastingPassage& passage, const CoastingRun& run,
                           double least_kmh);
/// That it is not known whether it may come to a stand, and why not.
std::string not_known_words(const CoastingPassage& passage, std::string_view why);
/// That the train stops at a place of the name within it.
std::string stop_within_words(const CoastingPassage& passage, const Stop& stop);

}  // namespace panup
