#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/words.h"
#include "issued/issue_register.h"
#include "plan/run_plan.h"

namespace panup {

/// What has come of a train's card.
enum class CardFate : std::uint8_t {
  issued,
  still_holds,  ///< the one issued last; none is issued anew
  refused,      ///< there is no plan that may be handed out
};
/// "issued", "still holds", "not issued".
std::string_view name_of(CardFate fate);

struct CardOfTrain {
  std::size_t row = 0;  ///< of the day
  CardFate fate = CardFate::issued;
  std::optional<Issue> issue;  ///< issued now, or the last one
  std::string why;             ///< refused: why
};

/// A day that was planned, with all its plans.
struct DayToIssue {
  const DayFile& day;
  const std::vector<std::optional<TrainOutcome>>& outcomes;
  const std::vector<std::optional<TrainReading>>& readings;
  const std::vector<std::shared_ptr<const RunPlan>>& plans;  ///< null: has none
  Words words = {};                                          ///< in which all this is said
};

/// How its cards are to be issued.
struct HowToIssue {
  HandedOut handed_out;
  bool also_holding = false;  ///< also where the last card still holds
};

/// What was issued last for trains of a day; by row, in the order in which they are asked for.
struct LastIssues {
  std::vector<std::optional<LastIssue>> last;  ///< nothing: none was
  std::string wrong;                           ///< with the register; empty: nothing
};
LastIssues last_issues(IssueRegister& issues, const DayFile& day,
                       const std::vector<std::size_t>& rows);

/// Cards that are made and not issued yet. To make them takes most of the time, and no register.
struct MadeCards {
  std::vector<CardOfTrain> cards;     ///< in the order of `rows`; of those to issue without `issue`
  std::vector<ReadyIssue> ready;      ///< of those to issue, in their order
  std::vector<std::size_t> of_ready;  ///< which of `cards` each of them is
};
/// `last`: by row.
MadeCards make_cards(const DayToIssue& planned, const std::vector<std::size_t>& rows,
                     const std::vector<std::optional<LastIssue>>& last, const HowToIssue& how);

/// What has come of the cards that were to be issued: all of them are, or, where something is
/// wrong, none.
struct HandedOutDay {
  std::vector<CardOfTrain> cards;  ///< in the order of `rows`; none where something is wrong
  std::string wrong;               ///< in words; empty: nothing
};

/// Issues the cards of these rows of the day.
HandedOutDay hand_out(IssueRegister& issues, const DayToIssue& planned,
                      const std::vector<std::size_t>& rows, const HowToIssue& how);

/// Issues cards that were made, in one short transaction. Those of which somebody else has issued
/// one meanwhile are made anew.
HandedOutDay issue_made(IssueRegister& issues, const DayToIssue& planned, const HowToIssue& how,
                        MadeCards made);

/// A card that is asked for as somebody saw its train.
struct AskedCard {
  std::size_t row = 0;        ///< of the day
  int replaces = 0;           ///< number of the last issue that was seen; 0: none was
  std::string inputs_sha256;  ///< as of the outcome that was seen
};

/// The cards that are not issued as they are asked for, each with why: those that `make_cards`
/// refuses; those of trains of which something else was seen than there is now; and those whose
/// last card still holds, unless that is asked for. `last`: by card asked for.
std::vector<CardOfTrain> refused_as_seen(const DayToIssue& planned,
                                         const std::vector<AskedCard>& asked,
                                         const std::vector<std::optional<LastIssue>>& last,
                                         const HowToIssue& how);

/// Issues cards that were made, where each still comes after the last issue it was made for: else
/// none is issued, and those that do not are given back, refused.
HandedOutDay issue_as_seen(IssueRegister& issues, const DayToIssue& planned, MadeCards made);

/// What is wrong with the last day on which cards are to hold, for trains that run on `day`; empty
/// where nothing is, or none is stated.
std::string wrong_with_last_day(const std::string& holds_until, const std::string& day);

/// The plan with what is stated on the card that is issued of it, on the sheets of each part.
RunPlan with_release(const RunPlan& run, const HandedOut& handed_out, const LastIssue* last,
                     int number, const std::vector<std::string>& different);

}  // namespace panup
