#pragma once

#include "judging/facts/running_train.h"
#include "judging/facts/separation.h"

namespace panup {

/// The raised pantographs of a train as it runs, front first, and what joins them: the roof line of
/// a vehicle that has one, and the high-voltage lines that the train states. A high-voltage line
/// is taken to join all raised pantographs of its vehicles, also where a roof line is opened or a
/// vehicle has none: how it is connected there is not known. Vehicles coupled to each other that
/// may have such a line, for neither the train nor a vehicle's type says that they have none, are
/// joined by one that is only possible. Load groups carry none (common practice, no published
/// source). Strips whose extent along the track is not stated reach over `strips_not_stated_m`.
RaisedCollectors raised_collectors(const RunningTrain& train, PantographSet raised,
                                   double strips_not_stated_m);

}  // namespace panup
