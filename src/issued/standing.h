#pragma once

#include <string>
#include <vector>

#include "issued/issue_register.h"

namespace panup {

/// Whether a card that was issued still says what its train is to do.
struct CardValidity {
  bool holds = true;
  TrainChange change;            ///< from what the card was made of to what is planned now
  std::vector<std::string> why;  ///< it holds no more, one sentence each
};

/// Compares what was read of the plan when the card was issued with what is read of the plan now:
/// not files, so that what decides nothing takes no card back. A train that has no plan now is not
/// known to run as its card says. `now.reading` is null then. `today` as YYYY-MM-DD: after its last
/// day a card holds no more.
CardValidity standing_of(const LastIssue& last, const ComparedTrain& now, const std::string& today);

/// In what two plans of a train differ, one sentence each; of more than a card has room for the
/// first, and how many more.
std::vector<std::string> differences(const TrainChange& change, const TrainOutcome& before,
                                     const TrainOutcome& now);

}  // namespace panup
