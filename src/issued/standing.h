#pragma once

#include <string>
#include <vector>

#include "day/plan_day.h"
#include "issued/issue_register.h"

namespace panup {

/// Whether a card that was issued still says what its train is to do.
struct CardValidity {
  bool holds = true;
  bool past_last_day = false;
  /// It was issued in another language than that of the plan now: the two are not compared, and
  /// whether it holds is not known.
  bool in_another_language = false;
  TrainChange change;            ///< from what the card was made of to what is planned now
  std::vector<std::string> why;  ///< it holds no more, one sentence each
};

/// Compares what was read of the plan when the card was issued with what is read of the plan now:
/// not files, so that what decides nothing takes no card back. A train that has no plan now is not
/// known to run as its card says. `now.reading` is null then. `today` as YYYY-MM-DD: after its last
/// day a card holds no more. `words`: in which the plan now is said.
CardValidity standing_of(const LastIssue& last, const ComparedTrain& now, const std::string& today,
                         const Words& words = {});

/// A train of a day, or one that a card was issued for, and how its last card stands.
struct CardStanding {
  std::string train_number;
  std::optional<Issue> issue;  ///< the last one; nothing: none was issued
  bool in_the_day = true;
  CardValidity validity = {.holds = false,
                           .past_last_day = false,
                           .in_another_language = false,
                           .change = {},
                           .why = {}};
};

/// How the last card of each train of a planned day stands, by departure, and then those of trains
/// that are no longer in the day, whose cards are out all the same.
struct DayStandings {
  std::vector<CardStanding> cards;
  std::string wrong;  ///< with the register; empty: nothing
};
DayStandings standings_of_day(IssueRegister& issues, const DayFile& day, const PlannedDay& planned,
                              const std::string& today, const Words& words = {});

/// In what two plans of a train differ, one sentence each; of more than a card has room for the
/// first, and how many more.
std::vector<std::string> differences(const TrainChange& change, const TrainOutcome& before,
                                     const TrainOutcome& now, const Words& words);

}  // namespace panup
