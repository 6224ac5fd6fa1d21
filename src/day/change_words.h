#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/words.h"
#include "day/train_change.h"

namespace panup {

/// "5 trains", "1 train".
std::string trains_counted(std::size_t number, const Words& words = {});

/// "3 slower": so many of what a name says, as a list of counts has it.
std::string counted(std::size_t number, std::string_view what, const Words& words);

/// "1.3 min": to a tenth of a minute; less is no loss that a timetable knows.
std::string minutes_words(double seconds, const Words& words = {});

/// In what a train changes, one sentence a line; of long lists the first, and how many more. Both
/// outcomes are in the language of `words`.
std::vector<std::string> difference_lines(const TrainChange& change, const TrainOutcome& before,
                                          const TrainOutcome& then, const Words& words);

/// The parts of the card that say something else: "the answer, the orders".
std::string card_parts_words(const TrainChange& change, const Words& words);

/// In what it changes, and whether its card holds.
std::vector<std::string> change_lines(const TrainChange& change, const TrainOutcome& before,
                                      const TrainOutcome& then, const Words& words);

}  // namespace panup
