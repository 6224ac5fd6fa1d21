#include "plan/exposure.h"

#include <algorithm>

namespace panup {

namespace {

/// A failure on the road, cut where the loads that are exposed change.
std::vector<RoadFailure> with_exposure(const PlanningCase& planning, const RoadFailure& failure) {
  std::vector<RoadFailure> cut;
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    const Piece& piece = planning.pieces[i];
    if (piece.to_km <= failure.from_km || piece.from_km >= failure.to_km) {
      continue;
    }
    const Judge& judge = planning.judge(i);
    std::vector<ExposedLoad> exposed = exposed_loads(judge, set_of(judge.train(), failure.raised));
    const double from_km = std::max(piece.from_km, failure.from_km);
    const double to_km = std::min(piece.to_km, failure.to_km);
    if (!cut.empty() && (piece.lowered || cut.back().exposed == exposed)) {
      cut.back().to_km = to_km;
      continue;
    }
    RoadFailure part = failure;
    part.from_km = from_km;
    part.to_km = to_km;
    for (const ExposedLoad& load : exposed) {
      part.text += planning.words().say(" The {}.", exposure_words(load, planning.words()));
    }
    part.exposed = std::move(exposed);
    if (part.stranded) {
      part.reaches_km = from_km;
    }
    cut.push_back(std::move(part));
  }
  return cut;
}

}  // namespace

void add_exposure(const PlanningCase& planning, std::vector<Contingency>& contingencies) {
  for (Contingency& contingency : contingencies) {
    std::vector<RoadFailure> failures;
    for (const RoadFailure& failure : contingency.on_the_road) {
      for (RoadFailure& part : with_exposure(planning, failure)) {
        failures.push_back(std::move(part));
      }
    }
    contingency.on_the_road = std::move(failures);
  }
}

}  // namespace panup
