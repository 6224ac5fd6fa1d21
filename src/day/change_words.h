#pragma once

#include <string>
#include <vector>

#include "day/train_change.h"

namespace panup {

/// "5 trains", "1 train".
std::string counted(std::size_t number, std::string_view thing);

/// "1.3 min": to a tenth of a minute; less is no loss that a timetable knows.
std::string minutes_words(double seconds);

/// In what a train changes, one sentence a line; of long lists the first, and how many more.
std::vector<std::string> difference_lines(const TrainChange& change, const TrainOutcome& before,
                                          const TrainOutcome& then);

/// The same, and whether its card holds.
std::vector<std::string> change_lines(const TrainChange& change, const TrainOutcome& before,
                                      const TrainOutcome& then);

}  // namespace panup
