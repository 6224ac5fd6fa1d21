#pragma once

#include <vector>

#include "judging/judged_case.h"
#include "plan/pieces.h"

namespace panup {

/// The pantographs that stay down on a piece that is entered with pantographs up, since the train
/// last stood too near to a stretch without power:
///
/// - where it stands with a pantograph in such a stretch or before its end, that pantograph cannot
///   be up, and the breaker not closed with it, before it has passed the end;
/// - where such a stretch is so near ahead that the driver would have to open the breaker or lower
///   the pantograph at once, it does not go up at all.
///
/// Where all of them stay down the train could not start.
std::vector<StaysDown> stays_down_on(const PlanRequest& request, const RunningTrain& train,
                                     const std::vector<PowerlessZone>& zones, const Piece& piece);

}  // namespace panup
